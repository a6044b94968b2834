import type { Body } from '../controls/chords/fingers.ts';
import { isStick, layouts, positionsAt } from './layouts.ts';

/** What to draw: a device's controls by position, with what is printed on each, and the numbers at those to mark (none: it stands out, without one). */
export interface DrawnDevice {
  readonly name: string;
  readonly body: Body | undefined;
  readonly controls: ReadonlyMap<string, string | undefined>;
  readonly marked: ReadonlyMap<string, readonly number[]>;
}

/** Width and height of a cell, in SVG user units. */
const cell = 40;
const margin = 16;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

function escaped(text: string): string {
  return text.replace(/[&<>"]/g, (found) => `&#${String(found.charCodeAt(0))};`);
}

function rectangle({ x, y, width, height }: Box, round: number, kind: string): string {
  return `<rect class="${kind}" x="${x}" y="${y}" width="${width}" height="${height}" rx="${round}"/>`;
}

/** The smallest box round all cells of one kind; undefined where the layout has none. */
function boxOf(rows: readonly (readonly string[])[], kind: string): Box | undefined {
  const at = rows.flatMap((row, y) => row.flatMap((name, x) => (name === kind ? [{ x, y }] : [])));
  if (at.length === 0) return undefined;
  const [left, top] = [Math.min(...at.map(({ x }) => x)), Math.min(...at.map(({ y }) => y))];
  const [right, bottom] = [Math.max(...at.map(({ x }) => x)), Math.max(...at.map(({ y }) => y))];
  return {
    x: margin + left * cell + 4,
    y: margin + top * cell + 4,
    width: (right - left + 1) * cell - 8,
    height: (bottom - top + 1) * cell - 8,
  };
}

/** The outline of a control about its middle: face buttons are round, the rest are bars and squares. */
function outline(name: string, x: number, y: number, kind: string): string {
  if (isStick(name))
    return `<circle class="${kind}" cx="${x}" cy="${y}" r="18"/><circle class="rim" cx="${x}" cy="${y}" r="12"/>`;
  if (/^(north|south|east|west)$/.test(name)) return `<circle class="${kind}" cx="${x}" cy="${y}" r="16"/>`;
  if (name.startsWith('dpad-')) return rectangle({ x: x - 15, y: y - 15, width: 30, height: 30 }, 4, kind);
  return rectangle({ x: x - 18, y: y - 11, width: 36, height: 22 }, /^(shoulder|trigger)/.test(name) ? 5 : 11, kind);
}

/** At most two fit on a control. */
function numberText(numbers: readonly number[]): string {
  return numbers.length > 2 ? `${numbers.slice(0, 2).join(' ')}…` : numbers.join(' ');
}

/** At most what fits on a control; the legend beside the picture has the rest. */
function onControl(text: string): string {
  return [...text].length > 4 ? '' : escaped(text);
}

/**
 * A device as an SVG picture: no script, no reference to anything outside. Its colours are those of the page, by the custom
 * properties `--ink`, `--paper`, `--mark` and `--mark-ink`, each with a value for a page that sets none.
 */
export function drawDevice({ name, body, controls, marked }: DrawnDevice): string {
  const has = [...controls.keys()];
  const rows = layouts[body ?? 'upright'].map((row) => row.split(' '));
  const columns = Math.max(...rows.map((row) => row.length));
  const [width, height] = [columns * cell + 2 * margin, rows.length * cell + 2 * margin];
  const drawn = rows.flatMap((row, line) =>
    row.flatMap((at, column) => {
      const own = positionsAt(at, has);
      if (own.length === 0) return [];
      const numbers = own.flatMap((position) => marked.get(position) ?? []);
      const [x, y] = [margin + (column + 0.5) * cell, margin + (line + 0.5) * cell];
      const text = numbers.length > 0 ? numberText(numbers) : onControl(controls.get(own[0] ?? '') ?? '');
      const outlined = own.some((position) => marked.has(position)) ? 'differs' : 'control';
      const kind = numbers.length > 0 ? 'marked' : outlined;
      const written = text === '' ? '' : `<text class="on-${kind}" x="${x}" y="${y + 4}">${text}</text>`;
      return [outline(at, x, y, kind) + written];
    }),
  );
  const screen = boxOf(rows, '~');
  const hinge = boxOf(rows, '=');
  const told = [...marked].filter(([position]) => controls.has(position)).map(([position]) => position);
  const says = `${name}, ${body ?? 'upright'}. ${told.length === 0 ? 'No control is marked.' : `Marked: ${told.join(', ')}.`}`;
  return [
    `<svg class="device" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img" aria-label="${escaped(says)}">`,
    `<style>${style}</style>`,
    rectangle({ x: 2, y: 2, width: width - 4, height: height - 4 }, 20, 'body'),
    ...(screen === undefined ? [] : [rectangle(screen, 6, 'screen')]),
    ...(hinge === undefined
      ? []
      : [`<path class="hinge" d="M${hinge.x} ${hinge.y + hinge.height / 2}h${hinge.width}"/>`]),
    ...drawn,
    '</svg>',
  ].join('\n');
}

const style = [
  '.device .body,.device .control,.device .rim,.device .hinge{fill:none;stroke:var(--ink,#1d2a33);stroke-width:2}',
  '.device .screen{fill:var(--ink,#1d2a33);fill-opacity:.14}',
  '.device .marked{fill:var(--mark,#7a2048);stroke:var(--mark,#7a2048);stroke-width:2}',
  '.device .differs{fill:none;stroke:var(--mark,#7a2048);stroke-width:4}',
  '.device text{font:600 12px sans-serif;text-anchor:middle}',
  '.device .on-control,.device .on-differs{fill:var(--ink,#1d2a33)}',
  '.device .on-marked{fill:var(--mark-ink,#fff)}',
].join('');
