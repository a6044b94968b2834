import type { SyntaxName, SyntaxValue, Tree } from '../../syntax/contract.ts';
import type { NamedSystem } from './named-system.ts';

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
function partsOf(key: string): readonly string[] {
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
  readonly commentedOut?: boolean;
}

/** The keys of one file with what stands around each. Linear in the text and its keys. */
export function seeKeys({ path, syntax, tree, systems, commentedOut = false }: FileSeen): readonly SeenKey[] {
  const { text } = tree.source;
  const starts: number[] = [0];
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  const lines = text.split('\n').map((line) => line.replace(/\r$/, ''));
  const isComment = (line: string | undefined): boolean =>
    line !== undefined &&
    (syntax === 'xml' ? /^\s*<!--.*-->\s*$/ : syntax === 'json' ? /^\s*(\/\/|\/\*)/ : /^\s*[#;!]/).test(line);
  let lineAt = 0;
  const fileSystem = systemNamed(path, systems);
  const all = [...tree.keys()].sort((a, b) => a.span.start - b.span.start);
  // A list is one value: its items are no keys of their own.
  const lists = all.filter((place) => tree.get(place.path)?.kind === 'list').map(({ path: list }) => list);
  const keys =
    lists.length === 0
      ? all
      : all.filter(
          (place) =>
            !lists.some(
              (list) =>
                place.path.length > list.length &&
                place.path.startsWith(list) &&
                /[/[.]/.test(place.path[list.length] ?? ''),
            ),
        );
  const byLine = new Map<number, string>();
  return keys.flatMap((place): readonly SeenKey[] => {
    const value = tree.get(place.path);
    if (value === undefined) return [];
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
    const line = lines[lineAt] ?? '';
    const after = line.slice(Math.max(0, place.valueSpan.end - (starts[lineAt] ?? 0)));
    const behind = /(?:^|\s)(?:#|\/\/|;|<!--)\s*(.+)$/.exec(after)?.[1] ?? '';
    const parts = partsOf(place.path);
    const named = systems.find((one) => parts.slice(0, -1).some((part) => part === one.text));
    return [
      {
        file: path,
        key: place.path,
        value,
        parts: named === undefined ? parts : parts.filter((part) => part !== named.text && part !== 'system'),
        comment: [...above, commentText(behind)].join(' ').trim(),
        heading,
        system: (named ?? fileSystem)?.system,
        commentedOut,
      },
    ];
  });
}

function systemNamed(path: string, systems: readonly NamedSystem[]): NamedSystem | undefined {
  const names = path.split(/[/.]/);
  return systems.find(({ text }) => names.includes(text));
}
