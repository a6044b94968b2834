import type { CardText } from '../adopt/card-text.ts';
import type { OnCard } from '../adopt/difference.ts';
import type { LookedAt } from '../adopt/read-card.ts';
import type { CardCell } from '../compare/compare-card.ts';
import { shownValue } from '../compare/shown-value.ts';
import type { Lens } from '../dialect/contract.ts';
import type { SaidOrigin, SideValue } from '../model/comparison.ts';
import type { Value } from '../model/value.ts';
import { settingById } from '../vocabulary/registry.ts';
import { soundsSecret } from '../vocabulary/sounds-secret.ts';
import type { ReadSide } from './compare-profiles.ts';

/** Says what stands on a card, with its line. What may be a secret is never quoted. */
export class CardTeller {
  readonly #side: ReadSide;
  readonly #card: CardText;
  readonly #lenses: ReadonlyMap<string, Lens>;
  readonly #secretText: (name: string) => string | undefined;
  readonly untold: string[] = [];

  constructor(
    side: ReadSide,
    card: CardText,
    lenses: ReadonlyMap<string, Lens>,
    secretText: (name: string) => string | undefined,
  ) {
    this.#side = side;
    this.#card = card;
    this.#lenses = lenses;
    this.#secretText = secretText;
  }

  same(place: LookedAt, value: Value): CardCell {
    return { ...place, onCard: this.#value(place, value) };
  }

  /** Nothing where the two cannot be told apart: it is untold then. */
  other(place: LookedAt, onCard: OnCard): readonly CardCell[] {
    const cell = (value: SideValue): readonly CardCell[] => [{ ...place, onCard: value }];
    const unknown = this.#unknownSecret(place);
    if (unknown !== undefined && onCard.kind !== 'gone') {
      const text = `${place.setting} is not compared: the text of secret:${unknown} is not known here.`;
      if (!this.untold.includes(text)) this.untold.push(text);
      return [];
    }
    switch (onCard.kind) {
      case 'value':
        return cell(this.#value(place, onCard.value));
      case 'gone':
        return cell({ kind: 'left-alone' });
      case 'secret':
        return cell({ kind: 'unreadable', text: this.#secretName(place), origin: undefined });
      case 'networks':
        return cell({ kind: 'unreadable', text: 'other networks or passwords', origin: undefined });
      case 'unreadable': {
        const [first] = onCard.keys;
        return cell({
          kind: 'unreadable',
          text: onCard.keys.map((key) => this.#quoted(place, key)).join(', '),
          origin: first === undefined ? undefined : this.#origin(place, first),
        });
      }
      case 'half-changed': {
        const [first] = onCard.keys;
        return cell({
          kind: 'unreadable',
          text: `${onCard.keys.map(({ key }) => key).join(', ')} changed, and not the other keys that say it too`,
          origin: first === undefined ? undefined : this.#origin(place, first),
        });
      }
    }
  }

  /** A secret that the profile names there and whose text nobody told us. */
  #unknownSecret({ decision }: LookedAt): string | undefined {
    const value = decision?.value;
    const names =
      value?.kind === 'secret'
        ? [value.name]
        : value?.kind === 'networks'
          ? value.networks.flatMap(({ password }) => (password === undefined ? [] : [password]))
          : [];
    return names.find((name) => this.#secretText(name) === undefined);
  }

  #secretName({ decision }: LookedAt): string {
    return decision?.value.kind === 'secret' ? `another text than secret:${decision.value.name}` : 'a text of its own';
  }

  #quoted({ setting }: LookedAt, { key, text }: { readonly key: string; readonly text: string }): string {
    const kind = settingById(setting)?.type.kind;
    if (key === '' || kind === 'secret' || kind === 'networks' || soundsSecret(key)) return 'another text';
    return `${key} = ${text === '' ? '""' : text}`;
  }

  #value(place: LookedAt, value: Value): SideValue {
    return {
      kind: 'value',
      value,
      text: shownValue(value, this.#side.parts.resolved.device.controls),
      origin: this.#originOf(place, value),
    };
  }

  #originOf({ instance, setting, scope, item }: LookedAt, value: Value): SaidOrigin | undefined {
    const spelled = this.#lenses.get(instance)?.spell(setting, value, scope, item);
    if (spelled === undefined || spelled.kind === 'cannot') return undefined;
    for (const { path, key, record } of spelled.writes) {
      const place = record === undefined ? this.#card.place(path, key) : undefined;
      if (place !== undefined) return { place, layer: 'the card', also: [] };
    }
    return undefined;
  }

  #origin(
    { instance, scope }: LookedAt,
    { file, key }: { readonly file: string; readonly key: string },
  ): SaidOrigin | undefined {
    const path = this.#lenses.get(instance)?.path(file, scope);
    const place = path === undefined ? undefined : this.#card.place(path, key);
    return place === undefined ? undefined : { place, layer: 'the card', also: [] };
  }
}
