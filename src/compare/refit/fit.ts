import { fingersOf } from '../../controls/chords/fingers.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { refitTerms } from '../../vocabulary/refit-terms.ts';
import type { RefitTerm, RefitWeights } from '../../vocabulary/refit-terms.ts';
import { kindOf } from './kinds.ts';
import type { HandsOn } from './problem.ts';

/** How often each term counts. */
export type Counts = Readonly<Partial<Record<RefitTerm, number>>>;

/** What one control costs hands that know another one: the terms that tell the two apart, once each. */
export function fitOf(from: HandsOn, was: Position, to: HandsOn, is: Position): Counts {
  const [wasLabel, isLabel] = [from.controls.get(was), to.controls.get(is)];
  const before = fingersOf(was, from.body, from.hands);
  const after = fingersOf(is, to.body, to.hands);
  // Without a label on either, only the place can tell two controls apart.
  const sameLabel = wasLabel === isLabel && (wasLabel !== undefined || was === is);
  return {
    ...(was === is ? {} : { position: 1 }),
    ...(sameLabel ? {} : { label: 1 }),
    ...(share(before?.map(handOf), after?.map(handOf)) ? {} : { hand: 1 }),
    ...(share(before, after) ? {} : { finger: 1 }),
    ...(kindOf(was) === kindOf(is) ? {} : { kind: 1 }),
  };
}

export function addCounts(all: readonly Counts[]): Counts {
  const sum: Partial<Record<RefitTerm, number>> = {};
  for (const counts of all) for (const [term, count] of entriesOf(counts)) sum[term] = (sum[term] ?? 0) + count;
  return sum;
}

/** In the order of the terms; none that is zero. */
export function entriesOf(counts: Counts): readonly (readonly [RefitTerm, number])[] {
  return refitTerms.flatMap(({ name }) => {
    const count = counts[name] ?? 0;
    return count === 0 ? [] : [[name, count] as const];
  });
}

/** In thousandths of a point, so that sums are exact whatever weights are written. */
export function costOf(counts: Counts, weights: RefitWeights): number {
  return entriesOf(counts).reduce((sum, [term, count]) => sum + count * Math.round(weights[term] * 1000), 0);
}

const handOf = (finger: string): string => finger.replace(/-.*/, '');

/** Undefined: any finger, with the hand taken away. */
function share(before: readonly string[] | undefined, after: readonly string[] | undefined): boolean {
  if (before === undefined || after === undefined) return before === after;
  return before.some((one) => after.includes(one));
}
