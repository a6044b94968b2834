import type { KeyPlace, Style, Syntax, SyntaxName, Tree } from '../../syntax/contract.ts';
import { syntaxes } from '../../syntax/registry.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { FileFormat } from '../contract.ts';
import { lineSeparators } from './line-separators.ts';

type ReadSyntax = FileFormat['syntax'];

interface Attempt {
  readonly syntax: ReadSyntax;
  readonly style: Style;
  /** Share of the text's letters that keys, sections and comments explain, 0 to 1. */
  readonly explained: number;
}

/** Endings that say what a file is, where its text allows it (the formats' own registrations). */
const endings: Readonly<Record<string, ReadSyntax>> = {
  json: 'json',
  xml: 'xml',
  toml: 'toml',
  yaml: 'yaml',
  yml: 'yaml',
  ini: 'ini',
  properties: 'properties',
};

const commentMarks = ['#', ';', '//', "'", '!', '--'] as const;

/** Comment marks that begin lines which would be no key without them. */
function commentsOf(text: string): readonly string[] {
  return commentMarks.filter((mark) => text.split(/\r\n|\n|\r/).some((line) => line.trimStart().startsWith(mark)));
}

/**
 * The syntax that keeps and explains most of a text: every syntax is tried, one that cannot read it all is out, and of the
 * rest the one that explains most wins; what the file's name says comes first among equals. Undefined: none explains it.
 */
export function detectFormat(path: string, samples: readonly SourceText[]): FileFormat | undefined {
  const sample = [...samples].sort((a, b) => b.text.length - a.text.length)[0];
  if (sample === undefined || sample.text.trim() === '') return undefined;
  const ending = /\.([a-z]+)$/i.exec(path)?.[1]?.toLowerCase() ?? '';
  const said = endings[ending];
  const attempts = candidates(sample.text).flatMap((attempt) => {
    const found = tryFormat(attempt.syntax, attempt.style, sample);
    return found === undefined ? [] : [found];
  });
  const rank = (attempt: Attempt): number =>
    attempt.explained + (attempt.syntax === said && attempt.explained > 0.5 ? 1 : 0);
  const best = attempts.reduce<Attempt | undefined>(
    (kept, one) => (kept === undefined || rank(one) > rank(kept) + 1e-9 ? one : kept),
    undefined,
  );
  if (best === undefined || best.explained < 0.6) return undefined;
  return { path, syntax: best.syntax, style: withDuplicates(best, samples) };
}

/** Syntaxes in the order of preference among equals: strict formats prove themselves by being read at all. */
function candidates(text: string): readonly { readonly syntax: ReadSyntax; readonly style: Style }[] {
  const start = text.replace(/^\ufeff/, '').trimStart();
  const marks = commentsOf(text);
  const commented = marks.filter((mark) => mark !== "'" && mark !== '!');
  const style: Style =
    commented.length === 0 ? {} : { comment: commented.length === 1 ? (commented[0] ?? '#') : commented };
  // Keys of several words, and separators that no format is known by, must be said.
  const induced = lineSeparators(text, commented).filter((separator) => separator.trim() !== '');
  const found: { syntax: ReadSyntax; style: Style }[] = [];
  if (/^[[{/]/.test(start)) found.push({ syntax: 'json', style: /\/\/|\/\*/.test(text) ? { relaxed: true } : {} });
  if (start.startsWith('<')) found.push({ syntax: 'xml', style: {} });
  const sectioned = /^\s*\[[^\]\r\n]+\]\s*$/m.test(text);
  const quoted = (text.match(/^\s*[\w."-]+\s*=\s*("[^"\r\n]*"|\[.*)\s*$/gm) ?? []).length;
  // One quoted value is reason to try; whether the rest is TOML its strict reader tells.
  if (quoted > 0) found.push({ syntax: 'toml', style: {} });
  if (/^(\s+|- )\S/m.test(text) && /^[\w"'. -]+:(\s|$)/m.test(text)) found.push({ syntax: 'yaml', style: {} });
  if (sectioned) found.push({ syntax: 'ini', style });
  else found.push(...induced.map((separator) => ({ syntax: 'pairs' as const, style: { ...style, separator } })));
  found.push({ syntax: 'pairs', style });
  if (!sectioned) found.push({ syntax: 'ini', style });
  found.push({ syntax: 'toml', style: {} }, { syntax: 'yaml', style: {} });
  if (/\\u[0-9a-f]{4}|^\s*!/im.test(text)) found.push({ syntax: 'properties', style: {} });
  found.push({ syntax: 'lines', style: {} });
  return found;
}

/**
 * The format of a file that shows too little of its own: that of a file of the same frontend and the same ending which
 * explains all of it, since one program writes its files alike.
 */
export function formatOfPeer(
  path: string,
  samples: readonly SourceText[],
  peers: readonly FileFormat[],
): FileFormat | undefined {
  if (samples.every(({ text }) => text.trim() === '')) return undefined;
  const ending = /\.[^./]+$/.exec(path)?.[0];
  const alike = peers.filter((peer) => /\.[^./]+$/.exec(peer.path)?.[0] === ending);
  for (const { syntax, style } of alike)
    if (
      samples.every((sample) => sample.text.trim() === '' || (tryFormat(syntax, style, sample)?.explained ?? 0) > 0.97)
    )
      return { path, syntax, style: withDuplicates({ syntax, style }, samples) };
  return undefined;
}

function tryFormat(name: ReadSyntax, style: Style, sample: SourceText): Attempt | undefined {
  const syntax: Syntax = syntaxes[name];
  const { tree, findings } = syntax.parse(sample, style);
  if (tree === undefined || findings.some(({ grade }) => grade === 'error')) return undefined;
  const keys = tree.keys();
  // A text that is one value as a whole has no keys to set.
  if (keys.length === 0 || (keys.length === 1 && (keys[0]?.path === '.' || keys[0]?.path === ''))) return undefined;
  const own = styleOf(name, style, tree, keys);
  return { syntax: name, style: own, explained: explainedBy(name, own, sample.text, keys) };
}

/** Of the lines that say something: how many a key, a heading or a comment accounts for. */
function explainedBy(name: SyntaxName, style: Style, text: string, keys: readonly KeyPlace[]): number {
  // A strict format that reads a text accounts for all of it; one without a value tells nothing, though.
  if (name === 'json' || name === 'xml') return 1;
  if (name === 'lines') return text.length > 20 && / \S+ \S+ /.test(text) ? 0.3 : 0.6;
  if (name === 'toml') return 1;
  const valued = keys.filter(({ valueSpan }) => valueSpan.end > valueSpan.start).length;
  if (name === 'yaml') return valued * 2 >= keys.length ? 1 : 0;
  // Prose has blanks between words too: a value of several words behind nothing but a blank is none.
  if (style.separator?.trim() === '') {
    const wordy = keys.filter(({ valueSpan }) =>
      /\S\s+\S+\s+\S/.test(text.slice(valueSpan.start, valueSpan.end)),
    ).length;
    if (wordy * 3 > keys.length) return 0;
  }
  const marks = typeof style.comment === 'string' ? [style.comment] : (style.comment ?? ['#', ';']);
  let said = 0;
  let known = 0;
  const taken = new Set(keys.map(({ span }) => lineOf(text, span.start)));
  let at = 0;
  for (const line of text.replace(/^\ufeff/, '').split(/\r\n|\n|\r/)) {
    const trimmed = line.trim();
    const here = lineOf(text, text.indexOf(line, at));
    at = Math.max(at, text.indexOf(line, at)) + line.length;
    if (trimmed === '') continue;
    said += 1;
    if (marks.some((mark) => trimmed.startsWith(mark)) || /^\[[^\]]+\]$/.test(trimmed) || taken.has(here)) known += 1;
  }
  if (said === 0) return 0;
  // Keys without a value are words of a text, not keys.
  const share = keys.length === 0 ? 0 : valued / keys.length;
  return (known / said) * (share < 0.4 ? share : 1) * (name === 'properties' ? 0.98 : 1);
}

function lineOf(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

/** What the text shows of its style and a new file could not: the separator as it is written, and its blanks. */
function styleOf(name: ReadSyntax, style: Style, tree: Tree, keys: readonly KeyPlace[]): Style {
  if (name !== 'pairs' && name !== 'ini') return style;
  const { text } = tree.source;
  const votes = new Map<string, number>();
  for (const { span, valueSpan } of keys.slice(0, 200)) {
    if (valueSpan.end <= valueSpan.start) continue;
    const between = /\s*[=:]\s*$|\s+$/.exec(text.slice(span.start, valueSpan.start))?.[0];
    if (between !== undefined) votes.set(between, (votes.get(between) ?? 0) + 1);
  }
  const [separator] = [...votes].sort((a, b) => b[1] - a[1])[0] ?? [];
  return { ...(separator === undefined ? {} : { separator: separator.replaceAll('\t', ' ') }), ...style };
}

/**
 * Which of several lines of one key the program reads: the one that ever changes. Both are kept in step by few programs, so
 * where only the first moves through the copies, it is the first.
 */
function withDuplicates({ syntax, style }: Pick<Attempt, 'syntax' | 'style'>, samples: readonly SourceText[]): Style {
  if (syntax !== 'pairs' && syntax !== 'ini' && syntax !== 'properties') return style;
  const varies = (duplicates: 'first' | 'last'): number => {
    const seen = new Map<string, Set<string>>();
    for (const sample of samples) {
      const { tree } = syntaxes[syntax].parse(sample, { ...style, duplicates });
      for (const { path } of tree?.keys() ?? []) {
        const value = tree?.get(path);
        const known = seen.get(path) ?? new Set<string>();
        known.add(JSON.stringify(value));
        seen.set(path, known);
      }
    }
    return [...seen.values()].filter((texts) => texts.size > 1).length;
  };
  if (samples.length < 2 || !samples.some(({ text }) => repeatsKey(text))) return style;
  return varies('first') > varies('last') ? { ...style, duplicates: 'first' } : style;
}

/** A cheap look for a line's key that stands twice. */
function repeatsKey(text: string): boolean {
  const seen = new Set<string>();
  let section = '';
  for (const line of text.split(/\r\n|\n|\r/)) {
    const trimmed = line.trim();
    if (/^\[.*\]$/.test(trimmed)) section = trimmed;
    const key = /^([^=:#;\s][^=:]*?)\s*[=:]/.exec(trimmed)?.[1];
    if (key === undefined) continue;
    if (seen.has(section + key)) return true;
    seen.add(section + key);
  }
  return false;
}
