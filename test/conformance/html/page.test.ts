import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDevice } from '../../../src/drawing/svg.ts';
import { makeSheet } from '../../../src/learn/sheet/make-sheet.ts';
import { cardPath } from '../../../src/model/paths.ts';
import type { CardPath } from '../../../src/model/paths.ts';
import { htmlPage } from '../../../src/report/html/page.ts';
import type { Page } from '../../../src/report/html/page.ts';
import { updatePage } from '../../../src/report/html/update-page.ts';
import { sheetPage } from '../../../src/report/html/sheet-page.ts';
import { positions } from '../../../src/vocabulary/positions.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeCard, updateCard } from '../../support/demo-card.ts';
import { openBrowser, printPage, seePage, seePrinted } from '../../support/browser.ts';
import { requireTool } from '../../support/tool.ts';

const long = 'a-name-without-any-place-to-break-it-'.repeat(8);
const page: Page = {
  title: 'One page & <all> of it',
  lead: ['<script>alert(1)</script>', long],
  pictures: (['upright', 'wide', 'folding'] as const).map((body) => ({
    caption: `"${body}"`,
    svg: drawDevice({
      name: `A <b>${body}</b> "one"`,
      body,
      controls: new Map(positions.map((position) => [position, position.slice(0, 3)])),
      marked: new Map([
        ['mode', [1]],
        ['thumb-left', [2]],
        ['stick-left-up', [3]],
      ]),
    }),
  })),
  sections: [
    {
      heading: 'Settings',
      paragraphs: ['A paragraph.'],
      items: [{ text: 'mode moves', numbers: [1] }, { text: long }],
      tables: [
        {
          caption: 'What differs',
          columns: ['setting', 'Fen', 'Mere'],
          rows: [
            [{ text: 'saves.state-on-exit' }, { text: 'true', origin: 'profiles/house.yaml:17' }, { text: long }],
            [{ text: 'hotkeys.hold', numbers: [1, 2] }, { text: '\u001b[31mred' }, { text: '-' }],
          ],
        },
      ],
    },
  ],
  footer: 'Made by thumbwright.',
};

const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel quay',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort',
};

function card(text: string): CardPath {
  const path = cardPath(text);
  if (path === undefined) throw new Error(`${text} is no path of a card.`);
  return path;
}

/** ISO 216: A4 is 210 by 297 mm; a point is 1/72 inch. */
function expectA4(sheets: readonly (readonly [number, number])[]): void {
  expect(sheets.length).toBeGreaterThan(0);
  for (const [width, height] of sheets) {
    expect(Math.abs(width - (210 / 25.4) * 72)).toBeLessThan(1);
    expect(Math.abs(height - (297 / 25.4) * 72)).toBeLessThan(1);
  }
}

function wholeSheet(): string {
  const sheet = makeSheet({ settings, controls: positions, stays: ['mode', 'shoulder-left'] });
  const labels = new Map([['mode', 'Fn']]);
  const names = { device: 'Fen', frontend: 'Harrow', labels, hold: 'Fn', openMenu: 'L1', script: 'bring.sh' };
  return sheetPage(sheet, names, ['Bring the copies over.']);
}

describe.skipIf(requireTool('chromium', 'chromium'))('a page in a real browser (Chromium, axe-core)', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  it.each([
    [360, 'light'],
    [360, 'dark'],
    [1280, 'light'],
    [1280, 'dark'],
  ] as const)('asks for nothing, complains of nothing and is readable at %i pixels, %s', async (width, scheme) => {
    const seen = await seePage(browser, htmlPage(page), width, scheme);
    const { complaints, requests, overflow, violations } = seen;
    expect({ complaints, requests, overflow, violations }).toEqual({
      complaints: [],
      requests: [],
      overflow: 0,
      violations: [],
    });
    expect(seen.smallestText).toBeGreaterThanOrEqual(12);
  });

  it.each([360, 1280])('shows the sheet of a whole frontend at %i pixels', async (width) => {
    const seen = await seePage(browser, wholeSheet(), width);
    expect(seen.complaints).toEqual([]);
    expect(seen.requests).toEqual([]);
    expect(seen.overflow).toBe(0);
    expect(seen.violations).toEqual([]);
  });

  it.each([360, 1280])('shows two devices side by side at %i pixels, and what an update did', async (width) => {
    const pages = inFolder((folder) => {
      expect(thumbwright(['diff', 'tarn', 'mere', '--html', 'diff.html'], folder).status).toBe(0);
      return [readFileSync(join(folder, 'diff.html'), 'utf8'), updatePage('Fen', [])];
    });
    for (const html of pages) {
      const seen = await seePage(browser, html, width);
      expect(seen.complaints).toEqual([]);
      expect(seen.requests).toEqual([]);
      expect(seen.overflow).toBe(0);
      expect(seen.violations).toEqual([]);
    }
    expect(pages[0]).toContain('<svg class="device"');
  });

  it('prints on A4', async () => {
    expectA4(await printPage(browser, htmlPage(page)));
  });

  it('prints what an update did on A4, all of it, dark on light', { timeout: 120_000 }, async () => {
    const html = inFolder((folder) => {
      makeCard(join(folder, 'card'));
      const run = (...args: string[]): void => {
        const ran = thumbwright(['write', 'fen', ...args, '--card', 'card'], folder, secrets);
        expect([ran.status, ran.said]).toEqual([0, expect.any(String)]);
      };
      run('--yes', '--saves-may-move');
      updateCard(join(folder, 'card'));
      run('--dry-run', '--accept-version', '--html', 'update.html');
      return readFileSync(join(folder, 'update.html'), 'utf8');
    });
    expect(html).toContain('settings:sedge.ini');
    expect(html).toContain('[lantern] flame');
    const many = updatePage(long, [
      {
        path: card('settings:a/b.conf'),
        gone: false,
        keys: Array.from({ length: 120 }, (_, at) => ({
          key: `${long}${at}`,
          kind: 'changed' as const,
          line: at + 1,
          whose: at % 2 === 0 ? ('disputes' as const) : ('never-yours' as const),
        })),
      },
    ]);
    for (const [text, least] of [
      [html, 1],
      [many, 3],
    ] as const) {
      const sheets = await printPage(browser, text);
      expect(sheets.length).toBeGreaterThanOrEqual(least);
      expectA4(sheets);
      // The sheet without the page's margins of 15 mm, at 96 pixels an inch.
      expect(await seePrinted(browser, text, Math.floor(((210 - 30) / 25.4) * 96))).toEqual({
        overflow: 0,
        ink: 'rgb(0, 0, 0)',
        paper: 'rgb(255, 255, 255)',
        hidden: 0,
      });
    }
  });

  it('finds what is wrong, so that silence means something', async () => {
    const bad =
      '<!doctype html><title>x</title><img src="http://127.0.0.1:9/x.png"><div style="width:2000px">x</div><p style="color:#eee;background:#fff">faint</p>';
    const seen = await seePage(browser, bad, 360);
    expect(seen.requests).toEqual(['http://127.0.0.1:9/x.png']);
    expect(seen.overflow).toBeGreaterThan(0);
    expect(seen.violations.join(' ')).toMatch(/image-alt/);
    expect(seen.violations.join(' ')).toMatch(/color-contrast/);
  });
});
