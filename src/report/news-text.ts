import type { CardPath } from '../model/paths.ts';
import { visible } from '../diagnostics/visible.ts';
import { count } from './wrap.ts';

interface KeyLine {
  readonly whose: 'never-yours' | 'agrees' | 'disputes';
  readonly planned?: { readonly origin?: { readonly file: string; readonly line: number } };
}

interface FileLines {
  readonly path: CardPath;
  readonly gone: boolean;
  readonly rewrittenBy?: string;
  readonly keys: readonly KeyLine[];
}

/** `it changed 41 keys; 38 were never yours, 2 agree with you, 1 disputes profiles/fen.yaml:17`. */
export function newsText(news: readonly FileLines[]): string {
  if (news.length === 0) return '';
  const lines = news.map(({ path, gone, keys }) => `  ${path}: ${gone ? 'gone' : sumUp(keys)}\n`);
  const all = news.flatMap(({ keys }) => keys);
  const gone = news.filter((file) => file.gone).length;
  const sum = [
    ...(all.length === 0 ? [] : [`${count(all.length, 'key')} changed; ${share(all)}`]),
    ...(gone === 0 ? [] : [`${count(gone, 'file')} gone`]),
  ].join('; ');
  const undone = news.flatMap(({ path, rewrittenBy }) => (rewrittenBy === undefined ? [] : [{ path, rewrittenBy }]));
  const told =
    undone.length === 0
      ? ''
      : `${visible([...new Set(undone.map(({ rewrittenBy }) => rewrittenBy))].join(' and '))} was running during the last write, it seems, and wrote ${undone.map(({ path }) => path).join(', ')} again when it ended: all that was written there is undone.\nPower the device off first (not to sleep), then write with --take-profile.\n`;
  return `Since the last write somebody else changed the card: ${sum}.\n${lines.join('')}${told}`;
}

function sumUp(keys: readonly KeyLine[]): string {
  return `${count(keys.length, 'key')}; ${share(keys)}`;
}

function share(keys: readonly KeyLine[]): string {
  const of = (whose: KeyLine['whose']): readonly KeyLine[] => keys.filter((key) => key.whose === whose);
  const never = of('never-yours').length;
  const agree = of('agrees').length;
  const disputes = of('disputes');
  const at = [
    ...new Set(
      disputes.flatMap(({ planned }) =>
        planned?.origin === undefined ? [] : [`${planned.origin.file}:${planned.origin.line}`],
      ),
    ),
  ];
  return [
    ...(never === 0 ? [] : [`${never} ${never === 1 ? 'was' : 'were'} never yours`]),
    ...(agree === 0 ? [] : [`${agree} ${agree === 1 ? 'agrees' : 'agree'} with you`]),
    ...(disputes.length === 0
      ? []
      : [
          `${disputes.length} ${disputes.length === 1 ? 'disputes' : 'dispute'} ${at.length === 0 ? 'what we wrote' : `${at.slice(0, 3).join(', ')}${at.length > 3 ? ` and ${at.length - 3} more` : ''}`}`,
        ]),
  ].join(', ');
}
