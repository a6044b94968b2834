import type { KeyPlace, SyntaxName, SyntaxValue, Tree } from '../../syntax/contract.ts';
import { systemIn } from '../copies/named-system.ts';
import type { NamedSystem } from '../copies/named-system.ts';

/** A key as a person sees it in the file: with what stands around it. */
export interface SeenKey {
  readonly file: string;
  readonly key: string;
  readonly value: SyntaxValue;
  /** Names of the path, outermost first; the last is the key's own. Digits that only count are left out. */
  readonly parts: readonly string[];
  /** The comment straight above it or behind it on its line, marks taken off; '' for none. */
  readonly comment: string;
  /** The comment that heads the block of lines in which it stands. */
  readonly heading: string;
  /** The system whose file or key it is. */
  readonly system: string | undefined;
  /** It stands in a comment, as a default that a person may put to use. */
  readonly commentedOut: boolean;
}

const marks = /^\s*(?:#+|;+|\/\/+|\/?\*+|<!--|!|--|')+\s?/;

/** A comment's words: marks and rules of dashes taken off. */
function commentText(line: string): string {
  return line
    .replace(marks, '')
    .replace(/(?:-->|\*\/)\s*$/, '')
    .replace(/[-=*#_]{2,}/g, ' ')
    .trim();
}

/** The names in a key's path. */
export function partsOf(key: string): readonly string[] {
  return key
    .replace(/\[@?[\w.-]*=(['"])(.*?)\1\]/g, '/$2/')
    .replace(/\[(\d+)\]/g, '/')
    .split(/[/\]]|\[|"/)
    .flatMap((part) => (/[\s]/.test(part.trim()) ? [part] : part.split('.')))
    .map((part) => part.replace(/^@/, '').trim())
    .filter((part) => part !== '');
}

interface FileSeen {
  readonly path: string;
  readonly syntax: SyntaxName;
  readonly tree: Tree;
  readonly systems: readonly NamedSystem[];
  /** What a key of the tree is called, where that is not its own path; undefined: it is none. */
  readonly called?: (path: string) => string | undefined;
  readonly commentedOut?: boolean;
}

const commentLine: Readonly<Partial<Record<SyntaxName, RegExp>>> = {
  xml: /^\s*<!--.*-->\s*$/,
  json: /^\s*(\/\/|\/\*)/,
};

/** The keys of one file with what stands around each. Linear in the text and its keys. */
export function seeKeys({ path, syntax, tree, systems, called, commentedOut = false }: FileSeen): readonly SeenKey[] {
  const { text } = tree.source;
  const starts: number[] = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  const lines = text.split('\n').map((line) => line.replace(/\r$/, ''));
  const mark = commentLine[syntax] ?? /^\s*[#;!]/;
  const isComment = (line: string | undefined): boolean => line !== undefined && mark.test(line);
  let lineAt = 0;
  const fileSystem = systemIn(path, systems);
  const byLine = new Map<number, string>();
  return keysOf(tree).flatMap(({ place, value }): readonly SeenKey[] => {
    while (lineAt + 1 < starts.length && (starts[lineAt + 1] ?? 0) <= place.valueSpan.start) lineAt += 1;
    let heading = '';
    const above: string[] = [];
    let at = lineAt - 1;
    for (; at >= 0 && isComment(lines[at]) && above.length < 6; at--) above.unshift(commentText(lines[at] ?? ''));
    // The heading of the block: the first comment above its first line, which need not be about that line alone.
    const block = byLine.get(lineAt - 1);
    if (above.length > 0) heading = block ?? above.join(' ');
    else if (block !== undefined) heading = block;
    byLine.set(lineAt, heading);
    const key = called === undefined ? place.path : called(place.path);
    if (key === undefined) return [];
    const line = lines[lineAt] ?? '';
    const after = line.slice(Math.max(0, place.valueSpan.end - (starts[lineAt] ?? 0)));
    const behind = after === '' ? '' : (/(?:^|\s)(?:#|\/\/|;|<!--)\s*(.+)$/.exec(after)?.[1] ?? '');
    const parts = partsOf(key);
    const system = fileSystem ?? systemIn(key, systems);
    return [
      {
        file: path,
        key,
        value,
        parts: system === undefined ? parts : parts.filter((part) => part !== system.text && part !== 'system'),
        comment: [...above, commentText(behind)].join(' ').trim(),
        heading,
        system: system?.system,
        commentedOut,
      },
    ];
  });
}

/**
 * The keys in the order of the text. A list is one value: its items are no keys of their own. An element that has attributes
 * and no text holds its values in these.
 */
function keysOf(tree: Tree): readonly { readonly place: KeyPlace; readonly value: SyntaxValue }[] {
  const all = [...tree.keys()]
    .sort((a, b) => a.span.start - b.span.start)
    .flatMap((place) => {
      const value = tree.get(place.path);
      return value === undefined ? [] : [{ place, value }];
    });
  const lists = new Set(all.flatMap(({ place, value }) => (value.kind === 'list' ? [place.path] : [])));
  const held = new Set(all.flatMap(({ place: { path } }) => /^(.*)\/@[^/]*$/.exec(path)?.[1] ?? []));
  if (lists.size === 0 && held.size === 0) return all;
  return all.filter(({ place: { path }, value }) => {
    if (held.has(path) && value.kind === 'scalar' && value.text.trim() === '') return false;
    const ends = [...path.matchAll(/[/[.]/g)].map(({ index }) => index);
    return !ends.some((end) => lists.has(path.slice(0, end)));
  });
}
