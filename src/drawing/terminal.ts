import type { Body } from '../controls/chords/fingers.ts';
import { isStick, layouts, positionsAt } from './layouts.ts';

/** What to draw: the controls that the device has, and those to mark, in the order of the legend. */
export interface ControlPicture {
  readonly body: Body | undefined;
  readonly has: readonly string[];
  readonly marked: readonly string[];
}

/** A device's controls as lines of plain text, 3 columns a control: `[1]` marked, `[ ]` there, nothing where it is lacking. */
export function drawControls({ body, has, marked }: ControlPicture): readonly string[] {
  const numbers = new Map(marked.map((position, index) => [position, String(index + 1)]));
  const drawn = new Set<string>();
  const cell = (name: string): string => {
    if (name === '~') return '###';
    if (name === '=') return '===';
    const own = positionsAt(name, has);
    if (own.length === 0) return '   ';
    const at = own.filter((position) => numbers.has(position));
    for (const position of at) drawn.add(position);
    const mark = at.map((position) => numbers.get(position)).join('');
    return isStick(name) ? `(${mark.padEnd(1)})` : `[${mark.padEnd(1)}]`;
  };
  const rows = layouts[body ?? 'upright'].map((row) => row.split(' ').map(cell).join(' ').trimEnd());
  const widest = Math.max(...rows.map((row) => row.length));
  const edge = `+${'-'.repeat(widest + 2)}+`;
  const lines = [edge, ...rows.filter((row) => row.trim() !== '').map((row) => `| ${row.padEnd(widest)} |`), edge];
  const legend = marked.map(
    (position) => `${numbers.get(position) ?? ''} ${position}${drawn.has(position) ? '' : ' (not drawn)'}`,
  );
  return legend.length === 0 ? lines : [...lines, legend.join('   ')];
}
