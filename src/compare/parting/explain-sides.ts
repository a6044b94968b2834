import type { Compiled } from '../../model/compiled.ts';
import type { Comparison, HotkeyDifference, Inability, InstancePair } from '../../model/comparison.ts';
import type { ExplainedCell, Explanation, Parting } from '../../model/parting.ts';
import type { ScopePoint } from '../../model/resolved.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { byVocabulary } from '../../vocabulary/order.ts';
import { compareCells } from '../compare.ts';
import { findSaid, meaningIn } from '../find-differences.ts';
import type { Meaning } from '../find-differences.ts';
import { pairInstances } from '../pair-instances.ts';
import { readCells } from '../read-cells.ts';
import { pointKey } from '../scope-points.ts';
import { namesOf } from '../side.ts';
import type { Cell, Sides } from '../side.ts';
import { partFit } from './part-fit.ts';
import { partLines } from './part-lines.ts';
import { roadOf, unaskedOf } from './road.ts';
import { seen } from './seen.ts';
import type { Seen } from './seen.ts';

export interface CompiledSides {
  readonly a: Compiled;
  readonly b: Compiled;
}

/**
 * Why two sides have what they have: of every setting that `compare` tells, or of one, told or not. Each cell has both
 * ways from the layers to the file, and the first point at which they part.
 */
export function explainSides(sides: Sides, compiled: CompiledSides, setting: string | undefined): Explanation {
  const pairs = pairInstances(sides);
  const all = pairs.flatMap((pair) => readCells(sides, pair));
  const comparison = compareCells(sides, pairs, all);
  const meaning = meaningIn(sides, pairs);
  const both = all.filter(
    ({ pair, setting: id }) =>
      pair.a !== undefined && pair.b !== undefined && (setting === undefined || id === setting),
  );
  const told = new Told(comparison);
  const listed = both.filter((cell) => told.has(cell));
  const cells = listed.length > 0 || setting === undefined ? listed : whatIsSaid(both, meaning);
  return {
    a: comparison.a,
    b: comparison.b,
    pairs: comparison.pairs,
    cells: cells.map((cell) => explainCell(sides, compiled, cell, meaning, told)).toSorted(byVocabulary),
  };
}

/** Where nothing differs: the cells at which either side says something else than around them. */
function whatIsSaid(cells: readonly Cell[], meaning: Meaning): readonly Cell[] {
  const said = new Set([...findSaid(cells, 'a', meaning), ...findSaid(cells, 'b', meaning)]);
  return cells.filter((cell) => said.has(cell));
}

function explainCell(sides: Sides, compiled: CompiledSides, cell: Cell, meaning: Meaning, told: Told): ExplainedCell {
  const [a, b] = [seen(sides, cell, 'a'), seen(sides, cell, 'b')];
  return {
    setting: cell.setting,
    ...(cell.item === undefined ? {} : { item: cell.item }),
    scope: cell.scope,
    pair: namesOf(cell.pair),
    a: roadOf(sides, compiled.a, cell, a),
    b: roadOf(sides, compiled.b, cell, b),
    parting: partingOf(sides, cell, [a, b], meaning, told),
  };
}

/** The first point at which the two ways part, from the layers on; undefined: they come to the same. */
function partingOf(
  sides: Sides,
  cell: Cell,
  [a, b]: readonly [Seen, Seen],
  meaning: Meaning,
  told: Told,
): Parting | undefined {
  const cannot = told.cannot(cell);
  if (meaning(cell, 'a') !== meaning(cell, 'b')) {
    const unasked = unaskedOf(a.instance, cell.setting) ?? unaskedOf(b.instance, cell.setting);
    if (unasked !== undefined) return { stage: 'asked', says: sentence(unasked) };
    const hold = (side: Seen): Position | undefined => sides[side.which].holds.get(side.instance?.name ?? '');
    const lines = partLines(a, b);
    return lines === undefined
      ? partFit(a, b, { a: hold(a), b: hold(b) })
      : { ...lines, says: [lines.says, ...cannot.map((one) => anyhow(sides, one))].join(' ') };
  }
  if (cannot.length > 0) return { stage: 'ability', says: cannot.map((one) => unable(sides, cell, one)).join(' ') };
  const hotkey = told.hotkey(cell);
  return hotkey === undefined ? undefined : { stage: 'labels', says: labelled(hotkey, a, b) };
}

/** A press that is the same by position. */
function labelled(hotkey: HotkeyDifference, a: Seen, b: Seen): string {
  const labels = (press: HotkeyDifference['a']): string =>
    (press?.labels ?? []).map((one) => one ?? 'nothing').join(' with ');
  const controls = (hotkey.a?.positions ?? []).join(' with ');
  return `The same control, ${controls}, is labelled ${labels(hotkey.a)} on ${a.device}, and ${labels(hotkey.b)} on ${b.device}.`;
}

/** What a side cannot have that has no line for it. */
function anyhow(sides: Sides, { side, kind, why }: Inability): string {
  const { shown } = sides[side];
  return kind === 'only-near'
    ? `With such a line ${shown} could only come near it: ${why}.`
    : `With such a line ${shown} could not have it either: ${why}.`;
}

function unable(sides: Sides, { a, b, pair }: Cell, { side, kind, why, wanted }: Inability): string {
  const { shown } = sides[side];
  const same = a.kind === b.kind ? `Both have ${wanted}` : `${wanted} is wanted`;
  const [here, there] = [pair[side], pair[side === 'a' ? 'b' : 'a']];
  const versions =
    kind === 'no-entry' &&
    here?.dialect.data.dialect === there?.dialect.data.dialect &&
    here?.version !== there?.version
      ? ` at version ${here?.version ?? 'unknown'} (the other one is at ${there?.version ?? 'unknown'})`
      : '';
  return `${same}, and ${shown} ${kind === 'only-near' ? 'can only come near it' : 'cannot have it'}: ${why}${versions}.`;
}

function sentence(clause: string): string {
  return `${clause.charAt(0).toUpperCase()}${clause.slice(1)}.`;
}

type Key = string;

function keyOf(setting: string, item: string | undefined, scope: ScopePoint, pair: InstancePair): Key {
  return JSON.stringify([setting, item, pointKey(scope), pair.a, pair.b]);
}

type ToldCells = Pick<Comparison, 'settings' | 'hotkeys' | 'cannot'>;

/** What a comparison tells, by cell. */
class Told {
  readonly #keys = new Set<Key>();
  readonly #hotkeys = new Map<Key, HotkeyDifference>();
  readonly #comparison: ToldCells;

  constructor(comparison: ToldCells) {
    this.#comparison = comparison;
    for (const { setting, item, scope, pairs } of comparison.settings)
      for (const pair of pairs) this.#keys.add(keyOf(setting, item, scope, pair));
    for (const hotkey of comparison.hotkeys)
      for (const pair of hotkey.pairs) {
        const key = keyOf(hotkey.setting, undefined, hotkey.scope, pair);
        this.#keys.add(key);
        this.#hotkeys.set(key, hotkey);
      }
  }

  has(cell: Cell): boolean {
    return (
      this.#keys.has(keyOf(cell.setting, cell.item, cell.scope, namesOf(cell.pair))) || this.cannot(cell).length > 0
    );
  }

  hotkey({ setting, item, scope, pair }: Cell): HotkeyDifference | undefined {
    return this.#hotkeys.get(keyOf(setting, item, scope, namesOf(pair)));
  }

  /** What one side, or each, cannot have of what the other has there. */
  cannot({ setting, item, scope, pair }: Cell): readonly Inability[] {
    return this.#comparison.cannot.filter(
      (one) =>
        one.setting === setting &&
        one.item === item &&
        pointKey(one.scope) === pointKey(scope) &&
        one.instances.includes(pair[one.side]?.name ?? ''),
    );
  }
}
