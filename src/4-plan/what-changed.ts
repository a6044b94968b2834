import type { KeyText } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { PlannedFile, PlannedKey } from '../model/plan.ts';
import type { RecordedFile } from '../model/record.ts';
import type { Syntax, SyntaxName, Tree } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';
import { lineColumn } from '../text/line-index.ts';
import { contentOf, sameContent } from './held.ts';
import type { Comparing } from './held.ts';
import { styleOf } from '../dialect/style-of.ts';
import { soundsSecret } from '../vocabulary/sounds-secret.ts';

/** One key that somebody else changed since we last saw the file. Of a key that holds a secret, ours or by its name, no text is told. */
export interface KeyNews {
  readonly key: string;
  readonly kind: 'added' | 'removed' | 'changed';
  readonly before: KeyText | undefined;
  readonly now: KeyText | undefined;
  /** From 1, in the card's text; in the text as we left it where the key is gone. */
  readonly line: number;
  /** `agrees`: ours, and says what the profile says; `disputes`: ours, and says something else. */
  readonly whose: 'never-yours' | 'agrees' | 'disputes';
  /** Where it is ours. */
  readonly planned?: PlannedKey;
}

export interface FileNews {
  readonly path: CardPath;
  readonly gone: boolean;
  readonly keys: readonly KeyNews[];
  /** The process that wrote the file when it ended, from what it had read before our write: all of ours is undone. */
  readonly rewrittenBy?: string;
}

/**
 * What became of the files since we last saw them, key by key, compared by what the syntaxes read. `seen`: the texts as
 * the last write left them. Files without news are left out.
 */
export function whatChanged(
  recorded: readonly RecordedFile[],
  files: readonly PlannedFile[],
  seen: (path: CardPath) => SourceText | undefined,
  card: (path: CardPath) => SourceText | undefined,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
  /** The process of an instance that rewrites its files when it ends. */
  process: (instance: string) => string | undefined,
): readonly FileNews[] {
  const planned = new Map(files.map((file) => [file.path, file]));
  const news: FileNews[] = [];
  for (const file of recorded) {
    const { path, syntax, style, whole } = file;
    const old = seen(path);
    const now = card(path);
    if (old === undefined || old.text === now?.text) continue;
    if (now === undefined) {
      news.push({ path, gone: true, keys: [] });
      continue;
    }
    if (whole !== undefined) continue;
    const read = (source: SourceText): Tree | undefined => syntaxes[syntax].parse(source, styleOf(style)).tree;
    const before = read(old);
    const after = read(now);
    if (before === undefined || after === undefined) continue;
    const ours = new Map((planned.get(path)?.keys ?? []).map((key) => [key.key, key]));
    const keys = keyNews(before, after, ours);
    const writer = keys.length === 0 ? undefined : rewriter(file, keys, after, process);
    if (keys.length > 0)
      news.push({ path, gone: false, keys, ...(writer === undefined ? {} : { rewrittenBy: writer }) });
  }
  return news;
}

/** All that we changed is as it stood before us, and other keys changed too: a live edit that its frontend undid. */
function rewriter(
  { keys: recorded }: RecordedFile,
  news: readonly KeyNews[],
  now: Tree,
  process: (instance: string) => string | undefined,
): string | undefined {
  const ours = recorded.filter(({ before, written }) => !sameContent(before, written, asText));
  const [first] = ours;
  const name = first === undefined ? undefined : process(first.instance);
  const back = ours.every(
    ({ key, record, before }) =>
      record === undefined && before.kind !== 'hashed' && sameContent(before, contentOf(now.get(key)), asText),
  );
  return back && news.some(({ whose }) => whose === 'never-yours') ? name : undefined;
}

/** Nothing hashed is compared here. */
const asText: Comparing = { keyed: () => '', same: () => false };

function keyNews(before: Tree, after: Tree, ours: ReadonlyMap<string, PlannedKey>): readonly KeyNews[] {
  const found: KeyNews[] = [];
  const told = new Set<string>();
  const tell = (path: string, tree: Tree): void => {
    if (told.has(path)) return;
    told.add(path);
    const was = before.get(path);
    const is = after.get(path);
    if (sameHeld(was, is)) return;
    const planned = ours.get(path);
    const ourSecret = planned?.from.kind === 'secret' || planned?.to.kind === 'secret';
    const secret = ourSecret || soundsSecret(path);
    found.push({
      key: path,
      kind: was === undefined ? 'added' : is === undefined ? 'removed' : 'changed',
      before: secret ? undefined : was,
      now: secret ? undefined : is,
      line: lineColumn(tree.source, tree.find(path)?.span.start ?? 0).line,
      whose: planned === undefined ? 'never-yours' : agrees(planned, is !== undefined) ? 'agrees' : 'disputes',
      ...(planned === undefined ? {} : { planned }),
    });
  };
  for (const { path } of after.keys()) tell(path, after);
  for (const { path } of before.keys()) tell(path, before);
  return found;
}

/** Of a key that has another name now, that the old one is gone is what we want too. */
function agrees(planned: PlannedKey, there: boolean): boolean {
  return planned.class === 'same' || (planned.class === 'let-go' && !there);
}

function sameHeld(a: KeyText | undefined, b: KeyText | undefined): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
