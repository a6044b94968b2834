import type { Sheet, SheetChange, SheetCopy } from '../model/sheet.ts';
import { positionPlaces } from '../vocabulary/position-places.ts';

/** What a sheet is printed with: names as people say them. */
export interface SheetNames {
  readonly device: string;
  readonly frontend: string;
  /** What is printed on the controls; a control with no label is told by where it is. */
  readonly labels: ReadonlyMap<string, string>;
  readonly hold: string | undefined;
  readonly openMenu: string | undefined;
  /** Name of the script that `fetch` made. */
  readonly script: string;
}

/** One line to tick off: what to look for in the menu, and what to set it to. */
export interface SheetLine {
  readonly find: string;
  readonly also: string;
  readonly set: string;
}

/** One copy as it is told: a title, what to do, lines to tick off, and what ends it. */
export interface SheetStep {
  readonly title: string;
  readonly says: readonly string[];
  readonly lines: readonly SheetLine[];
}

/** `Fn (the button for the menu)`; a control with nothing printed on it is told by its place. */
export function controlWords(position: string, labels: ReadonlyMap<string, string>): string {
  const place = positionPlaces[position] ?? position;
  const label = labels.get(position);
  return label === undefined ? place : `${label} (${place})`;
}

function valueWords({ to, setting }: SheetChange, names: SheetNames): string {
  if (to === undefined) return 'any other value; write it down: ____________';
  switch (to.kind) {
    case 'boolean':
      return to.is ? 'on' : 'off';
    case 'word':
      return to.word.replaceAll('-', ' ');
    case 'press': {
      const [position = ''] = to.press.kind === 'chord' ? to.press.positions : [to.press.position];
      const held = setting.type.kind === 'bind' && setting.type.whiles ? ', while held' : '';
      return `${controlWords(position, names.labels)}${held}`;
    }
    default:
      throw new Error(`A sheet sets no ${to.kind}. This is a bug in thumbwright.`);
  }
}

function lineOf(change: SheetChange, names: SheetNames): SheetLine {
  const { reads, words } = change.setting;
  const find = reads
    .replace(/:? *\{value\}.*$/, '')
    .replace(/ (every|for|at|after)$/, ' $1 …')
    .trim();
  const also = words.filter((word) => word !== find).slice(0, 3);
  return { find, also: also.join(', '), set: valueWords(change, names) };
}

const ends = (script: string): string => `Then leave the program by its own menu, and run ${script}.`;

function stepOf(copy: SheetCopy, names: SheetNames, first: boolean): SheetStep {
  const lines = copy.changes.map((change) => lineOf(change, names));
  const title = `Copy ${copy.number}`;
  switch (copy.kind) {
    case 'idle':
      return {
        title: `${title}: as it is`,
        says: ['Start the program and change nothing.', ends(names.script)],
        lines,
      };
    case 'idle-again':
      return {
        title: `${title}: as it is, once more`,
        says: [
          'Start the program, play any game for a minute, and change nothing. What differs now is clocks, counters and lists, and no setting.',
          ends(names.script),
        ],
        lines,
      };
    case 'hotkeys':
      return {
        title: `${title}: hotkeys`,
        says: [
          `Put each of these on the control beside it${names.hold === undefined ? '' : `, pressed together with ${names.hold}`}. Where the program says that a control is taken, take it. What the menu does not have, strike out.`,
          ...(first
            ? [
                `Leave alone ${[names.hold, names.openMenu].filter((name) => name !== undefined).join(' and ') || 'what opens the menu'}, so that you always find back.`,
                'Start no game meanwhile: a hotkey pressed by mistake could lose progress in it.',
              ]
            : []),
          ends(names.script),
        ],
        lines,
      };
    case 'switches':
      return {
        title: `${title}: switches and choices`,
        says: ['Set each of these as told. What the menu does not have, strike out.', ends(names.script)],
        lines,
      };
  }
}

/** A sheet in the words of a menu, without ids: copies one after the other, and last the way back. */
export function sheetSteps(sheet: Sheet, names: SheetNames): readonly SheetStep[] {
  const firstHotkeys = sheet.copies.find(({ kind }) => kind === 'hotkeys');
  return [
    {
      title: 'Before you begin',
      says: [
        'Keep a copy of the saves and states on the card. Have the device charged, or on its charger.',
        `Learning changes settings in the menu of ${names.frontend}, one after the other, and sees what its files become. Nothing else on the device is changed.`,
        'After each step leave the program by its own menu: many write their settings only then, and not when the device is switched off.',
      ],
      lines: [],
    },
    ...sheet.copies.map((copy) => stepOf(copy, names, copy === firstHotkeys)),
    {
      title: 'Last: put back',
      says: [
        `Copy the files of copy 1 back into the folder of ${names.frontend}, or set in its menu what you changed to what it was.`,
      ],
      lines: [],
    },
  ];
}
