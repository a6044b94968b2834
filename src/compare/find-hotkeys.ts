import type { ComparedPress, HotkeyChange, HotkeyDifference, SideValue, Which } from '../model/comparison.ts';
import type { Press } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import { isAboutControl } from '../vocabulary/about-control.ts';
import { settingById } from '../vocabulary/registry.ts';
import { pressMeaning } from './meaning.ts';
import { mergeCells } from './merge-cells.ts';
import { cellKey } from './side.ts';
import type { Cell, Sides } from './side.ts';
import { pointKey, widerThan } from './scope-points.ts';

/** What is pressed: a hotkey, or a control that plays an input or is held. Undefined: nothing. */
export function pressOf(value: SideValue): Press | undefined {
  if (value.kind !== 'value') return undefined;
  if (value.value.kind === 'press') return value.value.press;
  return value.value.kind === 'control' ? { kind: 'alone', position: value.value.position } : undefined;
}

function holdOf(sides: Sides, cell: Cell, which: Which): Position | undefined {
  return sides[which].holds.get(cell.pair[which]?.name ?? '');
}

function comparedPress(sides: Sides, cell: Cell, which: Which): ComparedPress | undefined {
  const value = cell[which];
  const press = pressOf(value);
  if (press === undefined || value.kind !== 'value') return undefined;
  const { controls } = sides[which].resolved.device.controls;
  const [, ...positions] = pressMeaning(press, holdOf(sides, cell, which));
  return {
    positions,
    labels: positions.map((position) => controls.get(position)?.label),
    text: value.text,
    origin: value.origin,
  };
}

/** Whether a setting of this id is about a control of the device. */
export function isOfControl(setting: string): boolean {
  const definition = settingById(setting);
  return definition !== undefined && isAboutControl(definition);
}

function isSameList(a: readonly unknown[], b: readonly unknown[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

/** How a hotkey differs, by position and by label; undefined: in neither. */
function changeOf(sides: Sides, cell: Cell): HotkeyChange | undefined {
  const [a, b] = [pressOf(cell.a), pressOf(cell.b)];
  if (a === undefined || b === undefined) {
    if (a === undefined && b === undefined) return undefined;
    return a === undefined ? 'only-b' : 'only-a';
  }
  const [one, two] = [comparedPress(sides, cell, 'a'), comparedPress(sides, cell, 'b')];
  if (one === undefined || two === undefined) return undefined;
  const [kind] = pressMeaning(a, holdOf(sides, cell, 'a'));
  const [otherKind] = pressMeaning(b, holdOf(sides, cell, 'b'));
  // Letters are told apart only where both are known.
  const known = [...one.labels, ...two.labels].every((label) => label !== undefined);
  const sameLabels = known && isSameList([...one.labels].sort(), [...two.labels].sort());
  if (!isSameList(one.positions, two.positions)) return sameLabels ? 'same-letter' : 'moved';
  const way = (value: SideValue): string =>
    value.kind === 'value' && value.value.kind === 'press' ? value.value.while : '';
  if (kind !== otherKind || way(cell.a) !== way(cell.b)) return 'other-way';
  return known && !sameLabels ? 'same-place' : undefined;
}

/** Hotkeys, and other controls, that differ by position or by what is printed there; alike ones of several pairs once. */
export function findHotkeys(sides: Sides, cells: readonly Cell[]): readonly HotkeyDifference[] {
  const told = new Map<string, string>();
  const differing = cells.flatMap((cell) => {
    if (!isOfControl(cell.setting) || cell.pair.a === undefined || cell.pair.b === undefined) return [];
    const change = changeOf(sides, cell);
    const said = (value: SideValue): string => (value.kind === 'left-alone' ? '' : value.text);
    const about = JSON.stringify([change, said(cell.a), said(cell.b)]);
    const [above] = widerThan(cell.scope);
    told.set(cellKey(cell) + pointKey(cell.scope), about);
    const isTold = above !== undefined && told.get(cellKey(cell) + pointKey(above)) === about;
    return change === undefined || isTold ? [] : [{ cell, change }];
  });
  return mergeCells(differing.map(({ cell }) => cell)).flatMap((merged): HotkeyDifference[] => {
    const { cell } = merged;
    const change = changeOf(sides, cell);
    return change === undefined
      ? []
      : [
          {
            setting: cell.setting,
            scope: cell.scope,
            pairs: merged.pairs,
            change,
            a: comparedPress(sides, cell, 'a'),
            b: comparedPress(sides, cell, 'b'),
          },
        ];
  });
}
