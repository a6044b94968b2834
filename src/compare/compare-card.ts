import type { Comparison, FactDifference, SideValue } from '../model/comparison.ts';
import type { Decision, Instance, ScopePoint } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import { byVocabulary } from '../vocabulary/order.ts';
import { compareCells } from './compare.ts';
import { reasonsOf, said } from './read-cells.ts';
import { byWidth } from './scope-points.ts';
import type { Cell, Paired, Side } from './side.ts';

/** One setting of one instance at one scope: what the profile has, and what was read off the card. */
export interface CardCell {
  readonly instance: string;
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  /** Undefined: the profile leaves it alone. */
  readonly decision: Decision | undefined;
  readonly onCard: SideValue;
}

/** A card as it was read through the lenses of a profile. */
export interface CardSays {
  /** Instances that could be read. */
  readonly instances: readonly Instance[];
  readonly cells: readonly CardCell[];
  /** What is held on the card, where it is something else than in the profile. */
  readonly holds: ReadonlyMap<string, Position>;
  readonly facts: readonly FactDifference[];
  /** What could not be compared, and why: sentences. */
  readonly untold: readonly string[];
}

/** A profile against a card of its device: the device is one, and so are the frontends. */
export function compareCard(profile: Side, card: CardSays): Comparison {
  const sides = { a: profile, b: { ...profile, shown: 'the card', holds: new Map([...profile.holds, ...card.holds]) } };
  const pairs = card.instances
    .filter(({ name }) => profile.only === undefined || profile.only === name)
    .map((instance): Paired => ({ a: instance, b: instance }));
  const cells = pairs.flatMap((pair) =>
    card.cells
      .filter(({ instance }) => instance === pair.a?.name)
      .map(({ setting, item, scope, decision, onCard }): Cell => ({
        pair,
        setting,
        item,
        scope,
        a: said(profile, decision),
        b: onCard,
        reasons: { a: reasonsOf(decision), b: [] },
      }))
      .sort((a, b) => byVocabulary(a, b) || byWidth(a.scope, b.scope)),
  );
  return { ...compareCells(sides, pairs, cells), facts: card.facts, untold: card.untold };
}
