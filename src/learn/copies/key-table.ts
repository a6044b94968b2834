import { syntaxes } from '../../syntax/registry.ts';
import type { SyntaxValue, Tree } from '../../syntax/contract.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { FileFormat, KeyRow, LeftAlone, Observation, Series } from '../contract.ts';
import { detectFormat, formatOfPeer } from './detect-format.ts';
import { steadyPaths, tellersByName } from './steady-paths.ts';

/** Every key of every file through all copies of all series. */
export interface KeyTable {
  readonly observations: readonly Observation[];
  readonly formats: ReadonlyMap<string, FileFormat>;
  readonly rows: readonly KeyRow[];
  /** Each file as the last copy has it that has it. */
  readonly latest: ReadonlyMap<string, LatestTree>;
  readonly leftAlone: readonly LeftAlone[];
}

/** A file's text as read, and what its keys are called in the table: undefined for what is none. */
export interface LatestTree {
  readonly tree: Tree;
  readonly called: (path: string) => string | undefined;
}

/** One text for what a key holds, so that holdings can be compared; a list is none of its texts. */
export function heldText(held: SyntaxValue | undefined): string {
  if (held === undefined) return '\0absent';
  return held.kind === 'scalar' ? held.text : `\0list${held.items.map((item) => item.text).join('\0')}`;
}

interface CopyTree {
  /** Index of the observation. */
  readonly at: number;
  readonly tree: Tree;
}

/** A file as its format reads it, in every copy that has it. */
function treesOf(
  path: string,
  format: FileFormat,
  observations: readonly Observation[],
): { readonly trees: readonly CopyTree[]; readonly readable: boolean } {
  let readable = true;
  const trees = observations.flatMap(({ series, copy }, at): readonly CopyTree[] => {
    const source = series.copies[copy]?.texts.get(path);
    if (source === undefined || source.text.trim() === '') return [];
    const { tree } = syntaxes[format.syntax].parse(source, format.style);
    if (tree === undefined) readable = false;
    return tree === undefined ? [] : [{ at, tree }];
  });
  return { trees, readable };
}

/** Whether a text has lines enough to tell its format by itself. */
function showsEnough({ text }: SourceText): boolean {
  return text.split(/\r\n|\n|\r/).filter((line) => line.trim() !== '').length > 3;
}

/** Reads every file of every copy by its format, and lines the keys up. */
export function makeKeyTable(series: readonly Series[]): KeyTable {
  const observations = series.flatMap((one) => one.copies.map((_, copy) => ({ series: one, copy })));
  const formats = new Map<string, FileFormat>();
  const leftAlone = new Map<string, LeftAlone>();
  const samples = new Map<string, SourceText[]>();
  for (const { series: one, copy } of observations) {
    for (const left of one.copies[copy]?.leftAlone ?? []) leftAlone.set(left.path, left);
    for (const [path, source] of one.copies[copy]?.texts ?? []) {
      const known = samples.get(path);
      if (known === undefined) samples.set(path, [source]);
      else known.push(source);
    }
  }
  const latest = new Map<string, LatestTree>();
  const rows = new Map<string, { file: string; key: string; held: (SyntaxValue | undefined)[] }>();
  const read = new Map<string, readonly CopyTree[]>();
  const telling = [...samples].flatMap(([path, sources]) =>
    sources.some(showsEnough) ? (detectFormat(path, sources) ?? []) : [],
  );
  for (const [path, sources] of samples) {
    const format =
      telling.find((one) => one.path === path) ?? formatOfPeer(path, sources, telling) ?? detectFormat(path, sources);
    if (format === undefined) {
      leftAlone.set(path, {
        path,
        why: sources.every(({ text }) => text.trim() === '') ? 'empty' : 'no file format explains it',
      });
      continue;
    }
    const { trees, readable } = treesOf(path, format, observations);
    if (!readable) {
      leftAlone.set(path, { path, why: `it is read as ${format.syntax} in one copy and not in another` });
      continue;
    }
    formats.set(path, format);
    read.set(path, trees);
  }
  const told = new Map<string, string>();
  for (const [path, trees] of read)
    if (formats.get(path)?.syntax === 'xml')
      for (const [name, teller] of tellersByName(trees.map(({ tree }) => tree))) told.set(name, teller);
  for (const [path, trees] of read) {
    const found: { key: string; at: number; held: SyntaxValue | undefined }[] = [];
    const all = trees.map(({ tree }) => tree);
    const steady = formats.get(path)?.syntax === 'xml' ? steadyPaths(all, told) : [];
    for (const [number, { at, tree }] of trees.entries()) {
      const paths = steady[number];
      const called = (key: string): string | undefined => (paths === undefined ? key : paths.get(key));
      latest.set(path, { tree, called });
      for (const { path: key } of tree.keys()) {
        const name = called(key);
        if (name !== undefined) found.push({ key: name, at, held: tree.get(key) });
      }
    }
    for (const { key, at, held } of found) {
      const id = `${path}\0${key}`;
      let row = rows.get(id);
      if (row === undefined) rows.set(id, (row = { file: path, key, held: observations.map(() => undefined) }));
      row.held[at] = held;
    }
  }
  const lists = new Set([...rows].flatMap(([id, row]) => (row.held.some((held) => held?.kind === 'list') ? [id] : [])));
  for (const [id, { file, key }] of rows)
    if (lists.has(`${file}\0${key.replace(/(\/\d+|\[\d+\])$/, '')}`) && !lists.has(id)) rows.delete(id);
  return { observations, formats, rows: [...rows.values()], latest, leftAlone: [...leftAlone.values()] };
}
