import type { KeyClass } from '../../../src/model/plan.ts';

/**
 * What the issue says of each key, over values alone: no text, no syntax, no lens, and nothing of the merge. Values are
 * what the program understands, so that a spelling is no part of them; undefined: the key is not there.
 */
export type Value = string | undefined;

export interface Place {
  readonly path: string;
  readonly key: string;
}

export interface Wish {
  readonly instance: string;
  readonly setting: string;
  readonly place: Place;
  readonly value: string;
  readonly volatile: boolean;
}

export interface Owned {
  readonly instance: string;
  readonly setting: string;
  readonly place: Place;
  readonly before: Value;
  readonly written: Value;
  /** What was left to the card at the last write: no news since, while it is so. */
  readonly kept?: { readonly is: Value };
}

/** One moment: what the world has when a write is asked for. */
export interface Moment {
  /** Undefined: the file is not there. */
  card(path: string): ReadonlyMap<string, string> | undefined;
  stock(path: string): ReadonlyMap<string, string>;
  /** Versions, and stock texts, were others at the last write. */
  otherVersion(instance: string): boolean;
  otherStock(path: string): boolean;
}

export interface Expected extends Place {
  readonly class: KeyClass;
  readonly instance: string;
  readonly setting: string;
  readonly after: Value;
}

const sameSubject = (a: Owned | Wish, b: Owned | Wish): boolean => a.instance === b.instance && a.setting === b.setting;
const samePlace = (a: Place, b: Place): boolean => a.path === b.path && a.key === b.key;

export function foretell(
  wishes: readonly Wish[],
  owned: readonly Owned[],
  moment: Moment,
): { readonly expected: readonly Expected[]; readonly owned: readonly Owned[] } {
  const on = ({ path, key }: Place): Value => moment.card(path)?.get(key);
  const shipped = ({ path, key }: Place): Value => moment.stock(path).get(key);
  const isAsKept = ({ kept, place }: Owned): boolean => kept !== undefined && kept.is === on(place);
  const updated = (path: string, instance: string, key: Owned | undefined): boolean => {
    if (moment.otherVersion(instance) || moment.otherStock(path)) return true;
    if (key !== undefined && isAsKept(key)) return false;
    const differ = owned.filter(
      (one) => one.place.path === path && one.written !== shipped(one.place) && !isAsKept(one),
    );
    return differ.length >= 2 && differ.every((one) => on(one.place) === shipped(one.place));
  };
  const expected: Expected[] = [];
  const next: Owned[] = [];
  for (const wish of wishes) {
    const { place, value, instance, setting } = wish;
    const old = owned.find((one) => sameSubject(one, wish));
    const [kind, writes] = fate(wish, old);
    const card = on(place);
    expected.push({ ...place, class: kind, instance, setting, after: writes ? value : card });
    const fresh =
      old === undefined || (!samePlace(old.place, place) && (card === shipped(place) || card === undefined));
    next.push({
      instance,
      setting,
      place,
      before: fresh ? card : old.before,
      written: writes || kind === 'same' ? value : (old?.written ?? card),
      ...(writes || kind === 'same' ? {} : { kept: { is: card } }),
    });
  }
  for (const old of owned) {
    const { place, before, written, instance, setting } = old;
    if (wishes.some((wish) => sameSubject(wish, old) && samePlace(wish.place, place))) continue;
    const card = on(place);
    const back = moment.card(place.path) !== undefined && card === written;
    expected.push({ ...place, class: 'let-go', instance, setting, after: back ? before : card });
  }
  return { expected, owned: next };

  function fate({ place, value, volatile, instance }: Wish, old: Owned | undefined): readonly [KeyClass, boolean] {
    const card = on(place);
    if (card === value) return ['same', false];
    if (old === undefined) return ['first-time', true];
    const here = samePlace(old.place, place);
    if (!here && (card === undefined || card === old.written || card === shipped(place))) return ['moved', true];
    if (here && card === old.written) return ['profile-changed', true];
    if (here && moment.card(place.path) === undefined) return ['file-gone', true];
    if (volatile) return ['volatile', value !== old.written];
    if (here && card === shipped(place) && updated(place.path, instance, old)) return ['reset', true];
    if (value !== old.written) return ['both-changed', false];
    return [card === undefined ? 'key-gone' : 'changed-by-hand', false];
  }
}
