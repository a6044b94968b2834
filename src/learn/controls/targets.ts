import { isAboutControl } from '../../vocabulary/about-control.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import { heldText } from '../copies/key-table.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { KeyRow, SettingRow } from '../contract.ts';
import { moves } from '../labels/noise.ts';

/** A setting that is a control, with the keys that may hold it: those that move only when it was changed. */
export interface Target {
  readonly setting: SettingRow;
  /** By observation: the control that was on it; null for none at all. */
  readonly known: readonly (Position | null | undefined)[];
  readonly rows: readonly KeyRow[];
}

export function targetsOf(
  table: KeyTable,
  settings: readonly SettingRow[],
  rows: readonly KeyRow[],
): readonly Target[] {
  return settings
    .filter(({ setting, changed }) => changed.size > 0 && isAboutControl(setting))
    .map((setting) => ({
      setting,
      known: setting.known.map((value) => {
        if (value === undefined) return undefined;
        if (value.kind === 'none') return null;
        if (value.kind === 'control') return value.position;
        return value.kind === 'press' && value.press.kind !== 'chord' ? value.press.position : undefined;
      }),
      rows: rows.filter((row) => {
        let moved = false;
        for (const [at] of table.observations.entries())
          if (moves(table, row, at)) {
            if (!setting.changed.has(at)) return false;
            moved = true;
          }
        return moved;
      }),
    }));
}

/** How several controls stand in one value of the file's own list. */
export interface ListChord {
  readonly hold: string;
  readonly order: 'hold-first' | 'hold-last';
}

/** The item that all lists of keys have in common in one place: the hold control, where hotkeys are lists. */
export function listChord(targets: readonly Target[]): ListChord | undefined {
  const lists = targets.flatMap(({ rows }) =>
    rows.flatMap(({ held }) =>
      held.flatMap((one) => (one?.kind === 'list' && one.items.length === 2 ? [one.items] : [])),
    ),
  );
  const [first] = lists;
  if (first === undefined) return undefined;
  for (const [at, order] of [
    [0, 'hold-first'],
    [1, 'hold-last'],
  ] as const) {
    const hold = first[at]?.text;
    if (hold !== undefined && lists.every((items) => items[at]?.text === hold)) return { hold, order };
  }
  return undefined;
}

/** The text of the control that a key holds, the hold control of a list taken off. */
export function controlText(held: SyntaxValue | undefined, chord: ListChord | undefined): string | undefined {
  if (held === undefined) return undefined;
  if (held.kind === 'scalar') return held.text;
  const own = held.items.filter(
    (_, at) => chord === undefined || at !== (chord.order === 'hold-first' ? 0 : held.items.length - 1),
  );
  return held.items.length === 2 && chord !== undefined ? own[0]?.text : heldText(held);
}
