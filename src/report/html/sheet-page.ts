import type { Sheet } from '../../model/sheet.ts';
import { sheetSteps } from '../sheet-lines.ts';
import type { SheetNames } from '../sheet-lines.ts';
import { htmlPage } from './page.ts';

/** A sheet as a page to print and tick off. */
export function sheetPage(sheet: Sheet, names: SheetNames, afterwards: readonly string[]): string {
  return htmlPage({
    title: `Learn ${names.frontend} on ${names.device}`,
    lead: ['Tick off each line. What the menu does not have, strike out.'],
    sections: [
      ...sheetSteps(sheet, names).map(({ title, says, lines }) => ({
        heading: `☐ ${title}`,
        paragraphs: says,
        tables:
          lines.length === 0
            ? []
            : [
                {
                  columns: ['in the menu', 'set to', 'in menus also'],
                  rows: lines.map(({ find, set, also }) => [{ text: `☐ ${find}` }, { text: set }, { text: also }]),
                },
              ],
      })),
      { heading: 'Afterwards', paragraphs: afterwards },
    ],
    footer: 'Made by thumbwright. Keep the sheet until everything is put back.',
  });
}
