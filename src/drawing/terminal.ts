import type { Body } from '../controls/chords/fingers.ts';

/** What to draw: the controls that the device has, and those to mark, in the order of the legend. */
export interface ControlPicture {
  readonly body: Body | undefined;
  readonly has: readonly string[];
  readonly marked: readonly string[];
}

const sticks = { 'stick left': /^(stick-left-|thumb-left$)/, 'stick right': /^(stick-right-|thumb-right$)/ } as const;

/** Rows of cells; `.` is an empty one, `~` screen, `=` the hinge. A row of one kind of these is drawn as a bar. */
const layouts: Readonly<Record<Body, readonly string[]>> = {
  upright: [
    'trigger-left shoulder-left . . . . shoulder-right trigger-right',
    'volume-up ~ ~ ~ ~ ~ ~ power',
    'volume-down ~ ~ ~ ~ ~ ~ .',
    '. dpad-up . . . . north .',
    'dpad-left . dpad-right . . west . east',
    '. dpad-down . . . . south .',
    '. . select . mode . start .',
    '. stick-left . extra-1 extra-2 . stick-right .',
  ],
  wide: [
    'trigger-left shoulder-left . volume-down volume-up power . . shoulder-right trigger-right',
    '. dpad-up . ~ ~ ~ ~ . north .',
    'dpad-left . dpad-right ~ ~ ~ ~ west . east',
    '. dpad-down . ~ ~ ~ ~ . south .',
    '. select . ~ ~ ~ ~ . start .',
    '. stick-left . extra-1 mode . extra-2 . stick-right .',
  ],
  folding: [
    '. ~ ~ ~ ~ ~ ~ .',
    '. ~ ~ ~ ~ ~ ~ .',
    'trigger-left shoulder-left = = = = shoulder-right trigger-right',
    '. dpad-up . power mode . north .',
    'dpad-left . dpad-right . . west . east',
    '. dpad-down . . . . south .',
    'volume-down volume-up select . . start extra-1 extra-2',
    '. stick-left . . . . stick-right .',
  ],
};

/** A device's controls as lines of plain text, 3 columns a control: `[1]` marked, `[ ]` there, nothing where it is lacking. */
export function drawControls({ body, has, marked }: ControlPicture): readonly string[] {
  const here = new Set(has);
  const numbers = new Map(marked.map((position, index) => [position, String(index + 1)]));
  const drawn = new Set<string>();
  const cell = (name: string): string => {
    if (name === '~') return '###';
    if (name === '=') return '===';
    const stick =
      name === 'stick-left' ? sticks['stick left'] : name === 'stick-right' ? sticks['stick right'] : undefined;
    const own = stick === undefined ? [name] : [...here].filter((position) => stick.test(position));
    if (!own.some((position) => here.has(position))) return '   ';
    const at = own.filter((position) => numbers.has(position));
    for (const position of at) drawn.add(position);
    const mark = at.map((position) => numbers.get(position)).join('');
    return stick === undefined ? `[${mark.padEnd(1)}]` : `(${mark.padEnd(1)})`;
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
