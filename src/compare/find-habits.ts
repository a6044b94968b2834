import type { SideValue, Unlearn } from '../model/comparison.ts';
import type { Instance } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import { settingById } from '../vocabulary/registry.ts';
import { canHold } from './find-inabilities.ts';
import { isOfControl, pressOf } from './find-hotkeys.ts';
import { pressedTogether, pressMeaning } from './meaning.ts';
import { pointKey, widerThan } from './scope-points.ts';
import { shownControl } from './shown-value.ts';
import { cellKey } from './side.ts';
import type { Cell, Sides } from './side.ts';

/** Settings that are no hotkeys and yet in the hands. */
const habits: ReadonlySet<string> = new Set(['exit.ask-first', 'power.short-press', 'power.long-press', 'power.lid']);

interface Had {
  /** Equal for two that the hands do alike. */
  readonly means: string;
  readonly value: SideValue;
}

/** What the hands find on a side: what its frontend cannot say is not there. */
function hadBy(sides: Sides, cell: Cell, which: 'a' | 'b'): Had | undefined {
  const value = cell[which];
  const held = canHold(sides, cell, which, which);
  if (value.kind !== 'value' || held === undefined) return undefined;
  if (held.kind === 'cannot' && held.inability !== 'only-near') return undefined;
  if (!isOfControl(cell.setting)) return { means: value.text, value };
  const press = pressOf(value);
  if (press === undefined) return undefined;
  const hold = sides[which].holds.get(cell.pair[which]?.name ?? '');
  const way = value.value.kind === 'press' ? value.value.while : '';
  return { means: JSON.stringify([pressMeaning(press, hold), way]), value };
}

/** By what is pressed at once: the action that it has on an instance of B, or what the system does with it. */
type Actions = ReadonlyMap<string, { readonly setting: string | undefined; readonly text: string }>;

function actionsOf(sides: Sides, cells: readonly Cell[], b: Instance | undefined): Actions {
  const { device } = sides.b.resolved;
  const { holds } = sides.b;
  const found = new Map<string, { setting: string | undefined; text: string }>();
  for (const chord of device.reserved)
    found.set(together(chord.positions), { setting: undefined, text: `the system takes it: ${chord.does}` });
  for (const cell of cells) {
    if (b === undefined || cell.pair.b !== b || pointKey(cell.scope) !== pointKey({})) continue;
    if (settingById(cell.setting)?.type.kind !== 'bind' || hadBy(sides, cell, 'b') === undefined) continue;
    const press = pressOf(cell.b);
    if (press !== undefined)
      found.set(together(pressedTogether(press, holds.get(b.name))), { setting: cell.setting, text: cell.setting });
  }
  return found;
}

function together(positions: readonly Position[]): string {
  return [...new Set(positions)].sort().join('+');
}

/**
 * What a person used to A must unlearn on B: presses of A that do not do the same there. What is only new on B is
 * nothing to unlearn, and neither is another letter in the same place. `cells`: of all pairs, wide before narrow.
 */
export function findHabits(sides: Sides, cells: readonly Cell[]): readonly Unlearn[] {
  const told = new Map<string, string>();
  const actions = new Map<Instance | undefined, Actions>();
  const found = new Map<string, Unlearn & { readonly instances: string[] }>();
  for (const cell of cells) {
    const { pair, setting, scope } = cell;
    if (pair.a === undefined || !(isOfControl(setting) || habits.has(setting))) continue;
    const was = hadBy(sides, cell, 'a');
    const now = pair.b === undefined ? elsewhere(sides, cells, cell, was) : hadBy(sides, cell, 'b');
    const about = JSON.stringify([was?.means, now?.means]);
    const at = cellKey(cell);
    const [above] = widerThan(scope);
    told.set(`${at}\n${pointKey(scope)}`, about);
    if (above !== undefined && told.get(`${at}\n${pointKey(above)}`) === about) continue;
    if (was === undefined || was.means === now?.means || was.value.kind !== 'value') continue;
    if (!actions.has(pair.b)) actions.set(pair.b, actionsOf(sides, cells, pair.b));
    const press = pressOf(was.value);
    const hold = sides.a.holds.get(pair.a.name);
    const oldPress =
      press === undefined || setting === 'hotkeys.hold' || settingById(setting)?.type.kind !== 'bind'
        ? undefined
        : actions.get(pair.b)?.get(together(pressedTogether(press, hold)));
    const does = oldPress?.setting === setting ? undefined : oldPress;
    const unlearn: Unlearn = {
      setting,
      scope,
      instances: [pair.a.name],
      was: was.value.text,
      now: now?.value.kind === 'value' ? now.value.text : undefined,
      why: now === undefined ? whyNothing(sides, cell) : undefined,
      oldPressDoes: does?.text,
      dangerous: does?.setting !== undefined && settingById(does.setting)?.destructive === true,
      positions: {
        a: press === undefined ? [] : pressedTogether(press, press.kind === 'with-hold' ? hold : undefined),
        b: nowPositions(sides, cell, now),
      },
    };
    const key = JSON.stringify({ ...unlearn, instances: [] });
    const known = found.get(key);
    if (known === undefined) found.set(key, { ...unlearn, instances: [pair.a.name] });
    else known.instances.push(pair.a.name);
  }
  return [...found.values()];
}

/** Where a frontend of A has no counterpart: what another player of B has for the same, the same press before others. */
function elsewhere(sides: Sides, cells: readonly Cell[], cell: Cell, was: Had | undefined): Had | undefined {
  const others = cells.flatMap((one) => {
    if (one.pair.b === undefined || one.setting !== cell.setting || one.item !== cell.item) return [];
    const had = pointKey(one.scope) === pointKey({}) ? hadBy(sides, one, 'b') : undefined;
    return had === undefined ? [] : [had];
  });
  return others.find(({ means }) => means === was?.means) ?? others[0];
}

function nowPositions(sides: Sides, cell: Cell, now: Had | undefined): readonly Position[] {
  const press = now === undefined ? undefined : pressOf(now.value);
  if (press === undefined) return [];
  const hold = sides.b.holds.get(cell.pair.b?.name ?? '');
  return pressedTogether(press, press.kind === 'with-hold' ? hold : undefined);
}

function whyNothing(sides: Sides, cell: Cell): string | undefined {
  const { device } = sides.b.resolved;
  if (cell.pair.b === undefined) {
    const missing = missingOf(sides, cell);
    return missing ?? `${device.name} has nothing like ${cell.pair.a?.name ?? ''}`;
  }
  const own = canHold(sides, cell, 'b', 'b');
  if (own?.kind === 'cannot') return own.why;
  const wanted = canHold(sides, cell, 'b', 'a');
  return wanted?.kind === 'cannot' ? wanted.why : undefined;
}

function missingOf(sides: Sides, cell: Cell): string | undefined {
  const press = pressOf(cell.a);
  const { device } = sides.b.resolved;
  const positions = press === undefined ? [] : pressedTogether(press, undefined);
  const missing = positions.filter((position) => !device.controls.controls.has(position));
  return missing.length === 0
    ? undefined
    : `${device.name} has no ${missing.map((position) => shownControl(position, device.controls)).join(' and no ')}`;
}
