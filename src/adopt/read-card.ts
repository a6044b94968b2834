import type { Lens, ReadBack } from '../dialect/contract.ts';
import type { Compiled } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import { listName } from '../model/list-name.ts';
import type { Decision, Instance, ScopePoint } from '../model/resolved.ts';
import { sameValue } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import { byVocabulary } from '../vocabulary/order.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { CardText } from './card-text.ts';
import { placeKey } from './difference.ts';
import type { Difference, OnCard } from './difference.ts';
import { everyPlace } from './every-place.ts';
import { gamesWithFiles } from './games-with-files.ts';
import { listByHand, sameTexts } from './list-by-hand.ts';
import { asWritten, ownedPlaces } from './owned-keys.ts';
import type { OwnedPlace } from './owned-keys.ts';
import { networksOnCard } from './networks-on-card.ts';
import { secretOnCard } from './secret-on-card.ts';
import type { NotByHand } from './wanted-of.ts';

/** A lens of an instance under other circumstances than the profile's. */
export type LensWith = (instance: Instance, other: LensCircumstances) => Lens | undefined;

export interface LensCircumstances {
  /** Another hold control. */
  readonly hold?: Position;
  /** Other texts for secrets. */
  readonly secretValue?: (name: string) => string;
}

export interface ReadCardInput {
  readonly compiled: Compiled;
  /** By instance; they spell secrets with their texts where these are known. */
  readonly lenses: ReadonlyMap<string, Lens>;
  readonly lensWith: LensWith;
  readonly card: CardText;
  /** What is ours on this card: with it, only what a hand changed is told. */
  readonly record: CardRecord | undefined;
  /** Also what no layer sets, at every scope that the dialects have. */
  readonly all: boolean;
  /** Only these settings. */
  readonly only: ReadonlySet<string> | undefined;
  /** Only at these places, by `placeKey`. */
  readonly places: ReadonlySet<string> | undefined;
  readonly notByHand: NotByHand;
}

/** What the profile and the card say differently, and what the card does not have at all. */
export interface CardReading {
  readonly differences: readonly Difference[];
  /** Set by the profile, and not on the card: to be written, not adopted. */
  readonly missing: readonly LookedAt[];
  /** What both say alike. */
  readonly same: readonly LookedAt[];
  /** Files that say something of which the profile could have a part, and that cannot be told. */
  readonly unread: readonly UnreadFile[];
}

/** A file of a card that stays out of the profile. */
export interface UnreadFile {
  readonly path: CardPath;
  /** A clause, lower case, no full stop. */
  readonly why: string;
  /** An imperative. */
  readonly wayOut: string;
}

/** One setting of one instance at one scope, and what the profile has there. */
export interface LookedAt {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  readonly decision: Decision | undefined;
}

/**
 * The settings of a card that are not as the profile has them: those that are ours, or that the profile sets, or `all`
 * that the dialects can read. Volatile ones are passed over. An instance's hotkeys are read together: when another
 * control is held on the card, they are read with that one.
 */
export function readCard(input: ReadCardInput): CardReading {
  const differences: Difference[] = [];
  const missing: LookedAt[] = [];
  const same: LookedAt[] = [];
  const unread: UnreadFile[] = [];
  const { resolved } = input.compiled;
  const owned = input.record === undefined ? undefined : ownedPlaces(input.record);
  for (const instance of resolved.instances) {
    const lens = input.lenses.get(instance.name);
    if (lens === undefined) continue;
    const places = placesOf(input, instance, lens, owned);
    if (input.all) unread.push(...unknownGames(input, instance, lens));
    input.card.know(instance, lens, [{}, ...places.map(({ scope }) => scope)]);
    const mineOf = (place: LookedAt): OwnedPlace | undefined => owned?.get(placeKey(place));
    const looked = lookedAt(input, places, (place) => {
      const mine = mineOf(place);
      if (owned === undefined || input.all || (mine !== undefined && !asWritten(mine, input.card))) return true;
      // Nor has a file made whole keys; a mark made by hand has no key of ours.
      if (isNetworks(place)) return place.decision !== undefined;
      const empty = input.record?.instances.get(instance.name)?.emptyLists ?? [];
      return isList(input, lens, place) && (mine !== undefined || empty.includes(listName(place.setting, place.item)));
    });
    const reader = new InstanceReader(input, instance, lens, looked);
    for (const place of looked) {
      const mine = mineOf(place);
      const plain = reader.read(place);
      const read = isNetworks(place) ? networks(input, instance, place, plain, unread) : plain;
      const onCard = owned === undefined ? read : sinceWritten(lens, place, read, mine);
      if (onCard === 'same') {
        same.push(place);
        continue;
      }
      const of = { ...place, owned: mine !== undefined };
      if (onCard !== 'absent') differences.push({ ...of, onCard });
      else if (mine !== undefined) differences.push({ ...of, onCard: { kind: 'gone' } });
      else if (place.decision !== undefined) missing.push(place);
    }
  }
  return { differences, missing, same, unread };
}

/** Whether a setting is said in records, as the card has them or the profile does. */
function isList({ card }: ReadCardInput, lens: Lens, { setting, item, scope, decision }: LookedAt): boolean {
  if (decision?.value.kind !== 'texts' || Object.keys(scope).length > 0) return false;
  if (lens.readRecords(setting, card.list, item, decision.value).kind === 'value') return true;
  const spelled = lens.spell(setting, decision.value, scope, item);
  return spelled.kind !== 'cannot' && spelled.writes.some(({ record }) => record !== undefined);
}

/** Of a list that was written, only what a hand did since is taken: the profile may have changed too. */
function sinceWritten(
  lens: Lens,
  place: LookedAt,
  onCard: ReturnType<InstanceReader['read']>,
  owned: OwnedPlace | undefined,
): ReturnType<InstanceReader['read']> {
  const profile = place.decision?.value;
  if (profile?.kind !== 'texts' || owned?.keys.some(({ recorded }) => recorded.record !== undefined) === false)
    return onCard;
  const card: Value | undefined =
    onCard === 'same'
      ? profile
      : onCard === 'absent'
        ? { kind: 'texts', texts: [] }
        : onCard.kind === 'value'
          ? onCard.value
          : undefined;
  if (card?.kind !== 'texts') return onCard;
  const value = listByHand(lens, place, { profile, card, owned });
  return sameTexts(value, profile) ? 'same' : { kind: 'value', value };
}

/** Everything of an instance that is to be looked at, the hold control first, in vocabulary order. */
function placesOf(
  input: ReadCardInput,
  instance: Instance,
  lens: Lens,
  owned: ReadonlyMap<string, OwnedPlace> | undefined,
): readonly LookedAt[] {
  const places = new Map<string, LookedAt>();
  const add = (place: LookedAt): void => {
    if (isPassedOver(input, place.setting)) return;
    const key = placeKey(place);
    if (!places.has(key)) places.set(key, place);
  };
  for (const { setting, item, instance: name, scope, fidelity, decision } of input.compiled.fidelity) {
    if (name !== instance.name || fidelity.kind === 'cannot') continue;
    add({ setting, ...(item === undefined ? {} : { item }), instance: name, scope, decision });
  }
  for (const { setting, item, instance: name, scope } of owned?.values() ?? []) {
    if (name === instance.name)
      add({ setting, ...(item === undefined ? {} : { item }), instance: name, scope, decision: undefined });
  }
  if (input.all) for (const place of everyPlace(input.compiled.resolved, instance, lens, input.card)) add(place);
  return [...places.values()].sort(byVocabulary);
}

function isNetworks({ setting }: LookedAt): boolean {
  return settingById(setting)?.type.kind === 'networks';
}

/** The Wi-Fi networks of an instance; what cannot be told goes to `unread`. */
function networks(
  { card, compiled: { resolved }, lensWith, all, record }: ReadCardInput,
  instance: Instance,
  { decision }: LookedAt,
  plain: OnCard | 'same' | 'absent',
  unread: UnreadFile[],
): OnCard | 'same' | 'absent' {
  const profile = decision?.value.kind === 'networks' ? decision.value : undefined;
  const read = networksOnCard({
    instance,
    lensWith,
    card,
    profile,
    values: (id) => resolved.decide(instance, id, {})?.value,
    all,
    owned: (path) => record?.files.some((file) => file.path === path && file.whole !== undefined) === true,
  });
  unread.push(...read.unread);
  if (read.networks === undefined) return profile === undefined || read.unread.length > 0 ? 'same' : 'absent';
  if (read.networks.length === 0 && profile === undefined) return 'absent';
  if (plain === 'same') {
    // The profile's are as it says them; the card may have others.
    if (read.networks.length === profile?.networks.length) return 'same';
    const said = read.networks.map(({ text, ...rest }) =>
      text === undefined || rest.secret !== undefined ? rest : { ...rest, text },
    );
    return { kind: 'networks', networks: said };
  }
  const onCard = read.networks.some(({ text, secret }) => text !== undefined || secret === undefined);
  return onCard || read.networks.length !== profile?.networks.length
    ? { kind: 'networks', networks: read.networks }
    : 'absent';
}

function unknownGames({ compiled, card }: ReadCardInput, instance: Instance, lens: Lens): readonly UnreadFile[] {
  const { untold } = gamesWithFiles(compiled.resolved, instance, lens, card);
  // The profile may name a game that is not on the card yet.
  return untold
    .filter((path) => !compiled.edits.some((edit) => edit.path === path))
    .map((path) => ({
      path,
      why: 'it is of one game, and the card has no game of that name, or several',
      wayOut: 'Say it in the profile by hand, in an only block for the game.',
    }));
}

/** What changes in play is taken only where it is asked for; lists of games also where all is. */
function isPassedOver({ only, all }: ReadCardInput, setting: string): boolean {
  const definition = settingById(setting);
  if (definition?.volatile !== true || only?.has(setting) === true) return false;
  return !(all && definition.type.kind === 'texts');
}

/**
 * The places that may be adopted. A hold control that stands in every hotkey has no key of its own by which a record
 * could tell that a hand changed it: it is looked at when any hotkey is.
 */
function lookedAt(
  input: ReadCardInput,
  places: readonly LookedAt[],
  changed: (place: LookedAt) => boolean,
): readonly LookedAt[] {
  const asked = places.filter(
    (place) => (input.only?.has(place.setting) ?? true) && (input.places?.has(placeKey(place)) ?? true),
  );
  const looked = new Set(asked.filter(changed));
  const hotkeys = [...looked].some((place) => place.setting.startsWith('hotkeys.bind.') && byHand(input, place));
  return asked.filter((place) => looked.has(place) || (hotkeys && isKeylessHold(place, input.compiled)));
}

function byHand({ only, notByHand }: ReadCardInput, place: LookedAt): boolean {
  return only?.has(place.setting) === true || !notByHand.has(placeKey(place));
}

function isKeylessHold({ setting, instance }: LookedAt, { fidelity, edits }: Compiled): boolean {
  const is = (one: { readonly setting: string; readonly instance: string }): boolean =>
    one.setting === 'hotkeys.hold' && one.instance === instance;
  return setting === 'hotkeys.hold' && fidelity.some(is) && !edits.some(is);
}

class InstanceReader {
  readonly #input: ReadCardInput;
  readonly #instance: Instance;
  readonly #own: Lens;
  readonly #hotkeys: Lens;
  readonly #hold: ReadBack;

  constructor(input: ReadCardInput, instance: Instance, lens: Lens, looked: readonly LookedAt[]) {
    this.#input = input;
    this.#instance = instance;
    this.#own = lens;
    const hold = input.compiled.resolved.decide(instance, 'hotkeys.hold', {});
    this.#hold = heldOnCard(input, instance, lens, hold?.value);
    const held = this.#hold;
    // Another hold control counts only where the profile may come to say it: else no hotkey would be read as it can.
    const taken = looked.some((place) => place.setting === 'hotkeys.hold' && byHand(input, place));
    const other = taken && held.kind === 'value' && held.value.kind === 'control' ? held.value.position : undefined;
    const now = hold?.value.kind === 'control' ? hold.value.position : undefined;
    this.#hotkeys = other === undefined || other === now ? lens : (input.lensWith(instance, { hold: other }) ?? lens);
  }

  read(place: LookedAt): OnCard | 'same' | 'absent' {
    const { setting, item, scope, decision } = place;
    const { card, lensWith } = this.#input;
    const read = this.#read(place);
    switch (read.kind) {
      case 'value':
        return decision !== undefined && sameValue(read.value, decision.value) ? 'same' : read;
      case 'absent':
        return 'absent';
      case 'half-changed':
        return read;
      case 'unreadable': {
        if (settingById(setting)?.type.kind !== 'secret') return read;
        const text = secretOnCard(this.#instance, lensWith, card.look, setting, scope, item);
        return text === undefined ? read : { kind: 'secret', text };
      }
    }
  }

  #read({ setting, item, scope, decision }: LookedAt): ReadBack {
    const { card } = this.#input;
    if (setting === 'hotkeys.hold') return this.#hold;
    const lens = setting.startsWith('hotkeys.bind.') ? this.#hotkeys : this.#own;
    const records = lens.readRecords(setting, card.list, item, decision?.value);
    if (records.kind !== 'absent') return records;
    return lens.read(setting, scope, card.look, decision?.value, item);
  }
}

/**
 * The hold control of an instance. Where it stands in every hotkey, those that the profile means to be pressed with it
 * tell: it is another one only when none of them has it any more, and all share one other.
 */
function heldOnCard(input: ReadCardInput, instance: Instance, lens: Lens, current: Value | undefined): ReadBack {
  const { look } = input.card;
  const read = lens.read('hotkeys.hold', {}, look, current);
  const spelled = current === undefined ? undefined : lens.spell('hotkeys.hold', current, {});
  if (current === undefined || spelled?.kind !== 'exact' || spelled.writes.length > 0)
    return read.kind === 'unreadable' && read.keys.length === 0 ? { kind: 'absent' } : read;
  const presses = input.compiled.fidelity.flatMap(({ instance: name, setting, scope, decision: { value } }) => {
    if (name !== instance.name || value.kind !== 'press' || value.press.kind !== 'with-hold') return [];
    const found = lens.read(setting, scope, look, value);
    return found.kind === 'value' && found.value.kind === 'press' ? [found.value.press] : [];
  });
  const [first, ...others] = presses.flatMap((press) => (press.kind === 'chord' ? [press.positions] : []));
  const common = first?.filter((position) => others.every((chord) => chord.includes(position))) ?? [];
  const [position, second] = common;
  return position === undefined || second !== undefined || presses.some(({ kind }) => kind === 'with-hold')
    ? { kind: 'value', value: current }
    : { kind: 'value', value: { kind: 'control', position } };
}
