import type { ComparedControl, ComparedSide, Comparison, SettingDifference } from '../model/comparison.ts';
import { positions } from '../vocabulary/positions.ts';
import { byVocabulary } from '../vocabulary/order.ts';
import { findDifferences, findSaid, meaningIn } from './find-differences.ts';
import type { Meaning } from './find-differences.ts';
import { findFacts } from './find-facts.ts';
import { findHabits } from './find-habits.ts';
import { findHotkeys } from './find-hotkeys.ts';
import { findInabilities } from './find-inabilities.ts';
import { mergeCells } from './merge-cells.ts';
import { pairInstances } from './pair-instances.ts';
import { readCells } from './read-cells.ts';
import type { Cell, Paired, Side, Sides } from './side.ts';

/** How two profiles differ in what they mean, not in how they say it. */
export function compare(sides: Sides): Comparison {
  const pairs = pairInstances(sides);
  return {
    ...compareCells(
      sides,
      pairs,
      pairs.flatMap((pair) => readCells(sides, pair)),
    ),
    facts: findFacts(sides, pairs),
    untold: [],
  };
}

/** What is said, held against each other cell by cell. `cells`: of all pairs, in vocabulary order, wide before narrow. */
export function compareCells(
  sides: Sides,
  pairs: readonly Paired[],
  cells: readonly Cell[],
): Omit<Comparison, 'facts' | 'untold'> {
  const meaning = meaningIn(sides, pairs);
  const both = cells.filter(({ pair }) => pair.a !== undefined && pair.b !== undefined);
  return {
    ...comparisonOf(sides, pairs, both, meaning),
    lone: loneInstances(pairs, cells, meaning),
    controls: controlsOf(sides),
    cannot: findInabilities(sides, both).toSorted(byVocabulary),
    hands: findHabits(sides, cells).toSorted(byVocabulary),
  };
}

type Common = Pick<Comparison, 'a' | 'b' | 'pairs' | 'settings' | 'hotkeys'>;

function comparisonOf(sides: Sides, pairs: readonly Paired[], cells: readonly Cell[], meaning: Meaning): Common {
  return {
    a: sideOf(sides.a),
    b: sideOf(sides.b),
    pairs: pairs.map(({ a, b }) => ({ a: a?.name, b: b?.name })),
    settings: mergeCells(findDifferences(cells, meaning))
      .map(({ cell, pairs: among }): SettingDifference => ({
        setting: cell.setting,
        ...(cell.item === undefined ? {} : { item: cell.item }),
        scope: cell.scope,
        pairs: among,
        a: cell.a,
        b: cell.b,
        ...(meaning(cell, 'a') === meaning(cell, 'b') ? { agree: true as const } : {}),
        reasons: cell.reasons,
      }))
      .toSorted(byVocabulary),
    hotkeys: findHotkeys(sides, cells).toSorted(byVocabulary),
  };
}

function sideOf({ shown, resolved }: Side): ComparedSide {
  const { device } = resolved;
  return { shown, device: device.name, body: device.body, has: [...device.controls.controls.keys()] };
}

function loneInstances(pairs: readonly Paired[], cells: readonly Cell[], meaning: Meaning): Comparison['lone'] {
  return pairs.flatMap((pair) => {
    const side = pair.b === undefined ? 'a' : 'b';
    const instance = pair[side];
    if (instance === undefined || (pair.a !== undefined && pair.b !== undefined)) return [];
    const own = cells.filter((cell) => cell.pair === pair);
    return [
      {
        side,
        instance: instance.name,
        dialect: instance.dialect.data.dialect,
        says: findSaid(own, side, meaning).map((cell) => ({
          setting: cell.setting,
          ...(cell.item === undefined ? {} : { item: cell.item }),
          scope: cell.scope,
          value: cell[side],
        })),
      } as const,
    ];
  });
}

function controlsOf({ a, b }: Sides): readonly ComparedControl[] {
  return positions.flatMap((position): ComparedControl[] => {
    const [one, two] = [a, b].map(({ resolved }) => resolved.device.controls.controls.get(position));
    const side = (control: typeof one): ComparedControl['a'] =>
      control === undefined ? undefined : { label: control.label, place: control.place };
    return one === undefined && two === undefined ? [] : [{ position, a: side(one), b: side(two) }];
  });
}
