import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { chromium } from 'playwright-core';
import type { Browser } from 'playwright-core';

/** What a real browser says of a page at one width. */
export interface SeenPage {
  /** Messages of the console that are warnings or errors, and errors of scripts. */
  readonly complaints: readonly string[];
  /** Addresses that the page asked for, itself aside. */
  readonly requests: readonly string[];
  /** Width of what is there beyond the window, in CSS pixels; 0: nothing has to be scrolled sideways. */
  readonly overflow: number;
  /** The smallest text, in CSS pixels. */
  readonly smallestText: number;
  /** What axe-core finds, each as `rule: selector`. */
  readonly violations: readonly string[];
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu'] });
}

/** Opens a page that is in no file and on no server, in a window of that width, light or dark. */
export async function seePage(
  browser: Browser,
  html: string,
  width: number,
  colorScheme: 'light' | 'dark' = 'light',
): Promise<SeenPage> {
  // The page's own policy would keep axe-core out; only here is it set aside.
  const context = await browser.newContext({ viewport: { width, height: 800 }, colorScheme, bypassCSP: true });
  try {
    const page = await context.newPage();
    const complaints: string[] = [];
    const requests: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'warning' || message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('request', (request) => requests.push(request.url()));
    await page.setContent(html, { waitUntil: 'load' });
    const overflow = await page.evaluate<number>(
      'Math.max(0, document.documentElement.scrollWidth - document.documentElement.clientWidth)',
    );
    const smallestText = await page.evaluate<number>(
      `Math.min(...[...document.querySelectorAll('body *:not(svg *)')].filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim())).map((e) => parseFloat(getComputedStyle(e).fontSize)))`,
    );
    await page.evaluate(axe);
    const violations = await page.evaluate<readonly string[]>(
      `axe.run().then(({ violations }) => violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => id + ': ' + target.join(' '))))`,
    );
    return { complaints, requests, overflow, smallestText, violations };
  } finally {
    await context.close();
  }
}

/** The page as it would be printed: the sizes of its sheets in points, from the PDF. */
export async function printPage(browser: Browser, html: string): Promise<readonly (readonly [number, number])[]> {
  const page = await browser.newPage();
  try {
    await page.setContent(html, { waitUntil: 'load' });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    return [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(
      ([, width, height]) => [Number(width), Number(height)] as const,
    );
  } finally {
    await page.close();
  }
}

/** How far anything of a page reaches beyond the sheet's text width in print, in CSS pixels; and colours of text on paper. */
export async function seePrinted(
  browser: Browser,
  html: string,
  textWidth: number,
): Promise<{ readonly overflow: number; readonly ink: string; readonly paper: string; readonly hidden: number }> {
  const context = await browser.newContext({ viewport: { width: textWidth, height: 1000 }, colorScheme: 'dark' });
  try {
    const page = await context.newPage();
    await page.emulateMedia({ media: 'print' });
    await page.setContent(html, { waitUntil: 'load' });
    return await page.evaluate<{ overflow: number; ink: string; paper: string; hidden: number }>(`(() => {
      const all = [...document.querySelectorAll('body, body *')];
      // A box that scrolls on a screen cuts off on paper.
      const cut = all.map((e) => Math.max(e.getBoundingClientRect().right + scrollX - ${textWidth},
        getComputedStyle(e).overflowX === 'visible' ? 0 : e.scrollWidth - e.clientWidth));
      const hidden = all.filter((e) => e.textContent.trim() !== '' && e.getClientRects().length === 0).length;
      const { color, backgroundColor } = getComputedStyle(document.body);
      return { overflow: Math.max(0, ...cut), ink: color, paper: backgroundColor, hidden };
    })()`);
  } finally {
    await context.close();
  }
}
