import { plainText } from '../../model/plain-text.ts';
import type { CardPath } from '../../model/paths.ts';
import type { PlannedKey, Shown } from '../../model/plan.ts';
import { newsText } from '../news-text.ts';
import { count } from '../wrap.ts';
import { htmlPage } from './page.ts';
import type { PageSection } from './page.ts';

interface KeyLine {
  readonly key: string;
  readonly kind: 'added' | 'removed' | 'changed';
  readonly line: number;
  readonly whose: 'never-yours' | 'agrees' | 'disputes';
  readonly planned?: Pick<PlannedKey, 'setting' | 'from' | 'to' | 'origin' | 'act'>;
}

interface FileLines {
  readonly path: CardPath;
  readonly gone: boolean;
  readonly rewrittenBy?: string;
  readonly keys: readonly KeyLine[];
}

/** What an update, or anybody else, did to a card since the last write, by file, as a page. */
export function updatePage(device: string, news: readonly FileLines[]): string {
  const told = newsText(news).trimEnd();
  return htmlPage({
    title: `What changed on the card of ${device}`,
    lead:
      news.length === 0
        ? ['Nothing changed in our files since the last write.']
        : told.split('\n').filter((line) => !line.startsWith('  ')),
    sections: news.map(sectionOf),
    footer:
      'Made by thumbwright. What keys of others hold is left out: it may be a password. Lines count in the file on the card.',
  });
}

function sectionOf({ path, gone, keys }: FileLines): PageSection {
  if (gone) return { heading: path, paragraphs: ['The file is gone from the card.'] };
  const ours = keys.filter(({ whose }) => whose !== 'never-yours');
  const others = keys.filter(({ whose }) => whose === 'never-yours');
  return {
    heading: path,
    tables: [
      ...(ours.length === 0
        ? []
        : [
            {
              caption: `Keys of yours: ${ours.length}`,
              columns: ['key', 'setting', 'the card says', 'the profile says', 'what is done'],
              rows: ours.map(({ key, planned, whose }) => [
                { text: key },
                {
                  text: planned?.setting ?? '',
                  ...(planned?.origin === undefined ? {} : { origin: `${planned.origin.file}:${planned.origin.line}` }),
                },
                { text: shownText(planned?.from) },
                { text: shownText(planned?.to) },
                {
                  text:
                    whose === 'agrees' ? 'they agree' : planned?.act === 'write' ? 'written again' : 'left as it is',
                },
              ]),
            },
          ]),
      ...(others.length === 0
        ? []
        : [
            {
              caption: `${count(others.length, 'key')} that ${others.length === 1 ? 'was' : 'were'} never yours; to take one up, name it under extra: in the profile`,
              columns: ['key', 'what became of it', 'line'],
              rows: others.map(({ key, kind, line }) => [{ text: key }, { text: kind }, { text: String(line) }]),
            },
          ]),
    ],
  };
}

function shownText(shown: Shown | undefined): string {
  if (shown === undefined) return '';
  switch (shown.kind) {
    case 'absent':
      return 'nothing';
    case 'secret':
      return shown.names.length === 0 ? 'a secret' : shown.names.map((name) => `secret:${name}`).join(', ');
    case 'text':
      return plainText(shown.value);
  }
}
