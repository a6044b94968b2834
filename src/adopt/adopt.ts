import type { LayerDocument } from '../model/document.ts';
import type { CardRecord } from '../model/record.ts';
import type { Decision, ScopePoint } from '../model/resolved.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { CardText } from './card-text.ts';
import { askedOf } from './asked.ts';
import type { Difference } from './difference.ts';
import { Search } from './search.ts';
import type { Adopted } from './adopted.ts';
import { readCard } from './read-card.ts';
import type { UnreadFile } from './read-card.ts';
import { wantedOf } from './wanted-of.ts';
import type { Left, NotByHand, SecretFound } from './wanted-of.ts';
import type { Rewritten } from './write-site.ts';
import type { TryTexts, World } from './world.ts';
import type { Writable } from './layers.ts';

export interface AdoptInput {
  /** The profile as it is. */
  readonly world: World;
  readonly tryTexts: TryTexts;
  readonly card: CardText;
  readonly record: CardRecord | undefined;
  /** Everything that the dialects can read, not only what is ours or what the profile sets. */
  readonly all: boolean;
  /** Only these settings; a secret that is named here is taken even where another text is known under its name. */
  readonly only: ReadonlySet<string> | undefined;
  /** Only at these places, by `placeKey`. */
  readonly places: ReadonlySet<string> | undefined;
  /** Layer as `sitesFor` names it, or the beginning of its name: there, whatever else it changes. */
  readonly at: string | undefined;
  readonly writable: Writable;
  /** Other profiles of the workspace that take a value from a line of a layer. */
  readonly sharedWith: (document: LayerDocument, path: Decision['origin']['path']) => readonly string[];
  readonly secretText: (name: string) => string | undefined;
  readonly notByHand: NotByHand;
  /** Whether the other layers are to be told for each thing adopted. */
  readonly alternatives: boolean;
}

/** What is to be written, and what cannot be. Nothing is written here. */
export interface AdoptPlan {
  readonly adopted: readonly Adopted[];
  readonly left: readonly Left[];
  /** New texts of the person's files, by name. */
  readonly texts: ReadonlyMap<string, Rewritten>;
  /** For the private file; never to be shown. */
  readonly secretsFound: readonly SecretFound[];
  /** Set by the profile and not on the card: the next write brings them. */
  readonly missing: readonly { readonly setting: string; readonly instance: string; readonly scope: ScopePoint }[];
  /** What compiling the new profile would still change on the card, by setting and instance. */
  readonly remaining: readonly { readonly setting: string; readonly instance: string; readonly scope: ScopePoint }[];
  readonly differences: readonly Difference[];
  readonly unread: readonly UnreadFile[];
  /** The layers as they will be, lowest first. */
  readonly layers: readonly LayerDocument[];
}

/** Carries what a card has otherwise than its profile back into the YAML. Every change is tried before it is offered. */
export function adopt(input: AdoptInput): AdoptPlan {
  const { world, card } = input;
  const reading = readCard({
    compiled: world.compiled,
    lenses: world.lenses,
    lensWith: world.lensWith,
    card,
    record: input.record,
    all: input.all,
    only: input.only,
    places: input.places,
    notByHand: input.notByHand,
  });
  const { differences } = reading;
  const { wanted, left, secretsFound } = wantedOf(differences, input);
  const search = new Search(input, new Map(secretsFound.map(({ name, text }) => [name, text])));
  const found = search.run(wanted);
  const remaining = [...askedOf(found.world, card).values()]
    .filter((asked) => settingById(asked.setting)?.volatile !== true && !asked.held())
    .map(({ setting, instance, scope }) => ({ setting, instance, scope }));
  return {
    adopted: found.adopted,
    left: [...left, ...found.left],
    texts: found.texts,
    secretsFound,
    missing: reading.missing,
    remaining,
    differences,
    unread: reading.unread,
    layers: found.world.layers,
  };
}
