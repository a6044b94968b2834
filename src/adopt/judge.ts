import { sameValue } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Asked } from './asked.ts';
import type { CardText } from './card-text.ts';
import { placeKey } from './difference.ts';
import type { Wanted } from './wanted.ts';
import type { World } from './world.ts';

/** Something else that a change of the profile changes with it. */
export interface SideEffect {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  /** Undefined: it is no longer set, or no single value. */
  readonly value: Value | undefined;
  /** Whether the card has it so already. */
  readonly agrees: boolean;
}

export interface Judged {
  /** Whether the card holds what the changed profile asks at every place that was to be adopted. */
  readonly wins: boolean;
  readonly others: readonly SideEffect[];
}

/** What a change of the profile does, by what is asked of the card before and after it. */
export function judge(
  before: ReadonlyMap<string, Asked>,
  after: ReadonlyMap<string, Asked>,
  world: World,
  card: CardText,
  wanted: readonly Wanted[],
): Judged {
  const targets = new Set(wanted.flatMap((one) => one.targets.map(placeKey)));
  const raw = new Set(wanted.flatMap((one) => one.rawIds));
  const wins = wanted.every((one) =>
    one.targets.every((target) => {
      const asked = after.get(placeKey(target));
      if (one.to.kind === 'value')
        return asked === undefined
          ? reads(world, card, target) === 'same'
          : asked.held() || isWish(asked, one.to.value);
      return asked === undefined && one.rawIds.every((id) => after.get(id)?.held() === true);
    }),
  );
  const others: SideEffect[] = [];
  const add = (asked: Asked, value: Value | undefined, agrees: boolean): void => {
    const { setting, item, instance, scope } = asked;
    others.push({ setting, ...(item === undefined ? {} : { item }), instance, scope, value, agrees });
  };
  for (const [id, asked] of after) {
    const was = before.get(id);
    if (targets.has(id) || raw.has(id) || was?.content === asked.content) continue;
    // A file or key that is made of several settings, and was another one on the card before: nothing is taken from the card.
    if (was !== undefined && asked.value === undefined && !was.held() && !asked.held()) continue;
    add(asked, asked.value, asked.held());
  }
  for (const [id, asked] of before) {
    if (targets.has(id) || after.has(id)) continue;
    // A narrower key that says what the wider one says now is no longer needed.
    add(asked, undefined, reads(world, card, asked) === 'same');
  }
  return { wins, others };
}

/** A list in which the profile has changed something too: the card gets that with the next write. */
function isWish({ value }: Asked, wish: Value): boolean {
  return value?.kind === 'texts' && wish.kind === 'texts' && sameValue(value, wish);
}

type PlaceOf = Pick<Asked, 'setting' | 'item' | 'instance' | 'scope'>;

/** Whether the card reads, at a place that no key is asked for, as what the layers say there. */
function reads(world: World, card: CardText, place: PlaceOf): 'same' | 'other' | 'unset' {
  const instance = world.compiled.resolved.instances.find(({ name }) => name === place.instance);
  const lens = world.lenses.get(place.instance);
  if (instance === undefined || lens === undefined) return 'unset';
  const decision = world.compiled.resolved.decide(instance, place.setting, place.scope, place.item);
  if (decision === undefined) return 'unset';
  const records = lens.readRecords(place.setting, card.list, place.item, decision.value);
  const read =
    records.kind === 'absent' ? lens.read(place.setting, place.scope, card.look, decision.value, place.item) : records;
  // No game is listed, and none is marked.
  if (read.kind === 'absent' && decision.value.kind === 'texts' && decision.value.texts.length === 0) return 'same';
  return read.kind === 'value' && sameValue(read.value, decision.value) ? 'same' : 'other';
}
