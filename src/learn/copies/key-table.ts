import { syntaxes } from '../../syntax/registry.ts';
import type { SyntaxValue, Tree } from '../../syntax/contract.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { FileFormat, KeyRow, LeftAlone, Observation, Series } from '../contract.ts';
import { detectFormat } from './detect-format.ts';
import { steadyPaths } from './steady-paths.ts';

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
  for (const [path, sources] of samples) {
    const format = detectFormat(path, sources);
    if (format === undefined) {
      leftAlone.set(path, {
        path,
        why: sources.every(({ text }) => text.trim() === '') ? 'empty' : 'no file format explains it',
      });
      continue;
    }
    let readable = true;
    const found: { key: string; at: number; held: SyntaxValue | undefined }[] = [];
    const trees: { readonly at: number; readonly tree: Tree }[] = [];
    observations.forEach(({ series: one, copy }, at) => {
      const source = one.copies[copy]?.texts.get(path);
      if (source === undefined || source.text.trim() === '') return;
      const { tree } = syntaxes[format.syntax].parse(source, format.style);
      if (tree === undefined) readable = false;
      else trees.push({ at, tree });
    });
    const steady = format.syntax === 'xml' ? steadyPaths(trees.map(({ tree }) => tree)) : [];
    for (const [number, { at, tree }] of trees.entries()) {
      const paths = steady[number];
      const called = (key: string): string | undefined => (paths === undefined ? key : paths.get(key));
      latest.set(path, { tree, called });
      for (const { path: key } of tree.keys()) {
        const name = called(key);
        if (name !== undefined) found.push({ key: name, at, held: tree.get(key) });
      }
    }
    if (!readable) {
      latest.delete(path);
      leftAlone.set(path, { path, why: `it is read as ${format.syntax} in one copy and not in another` });
      continue;
    }
    formats.set(path, format);
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
