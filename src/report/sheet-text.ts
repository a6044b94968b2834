import type { Sheet } from '../model/sheet.ts';
import { sheetSteps } from './sheet-lines.ts';
import type { SheetNames } from './sheet-lines.ts';
import { count, wrap } from './wrap.ts';

/** A sheet for the terminal, or to print as plain text: a box to tick before everything that is to be done. */
export function sheetText(sheet: Sheet, names: SheetNames, afterwards: readonly string[], width: number): string {
  const out = [
    `Learn ${names.frontend} on ${names.device}: ${count(sheet.copies.length, 'copy').replace(/ys$/, 'ies')}`,
    '',
  ];
  for (const { title, says, lines } of sheetSteps(sheet, names)) {
    out.push(`[ ] ${title}`, ...says.map((text) => wrap(text, width, '    ')));
    for (const { find, also, set } of lines) {
      out.push(hanging(`[ ] ${find}: ${set}`, width));
      if (also !== '') out.push(wrap(`(in menus also: ${also})`, width, '            '));
    }
    out.push('');
  }
  return [...out, ...afterwards].join('\n') + '\n';
}

/** A line with a box, its further lines under its words. */
function hanging(text: string, width: number): string {
  return wrap(text, width - 4, '        ').replace(/\n {8}/g, '\n            ');
}
