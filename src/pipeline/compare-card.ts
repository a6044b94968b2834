import { plainText } from '../model/plain-text.ts';
import { baseOf, partFolder } from '../1-load/base-files.ts';
import type { CardFolders } from '../1-load/base-files.ts';
import { compile } from '../3-compile/compile.ts';
import type { CardText } from '../adopt/card-text.ts';
import { placeKey } from '../adopt/difference.ts';
import { readCard } from '../adopt/read-card.ts';
import { compareCard } from '../compare/compare-card.ts';
import type { CardCell } from '../compare/compare-card.ts';
import type { Lens } from '../dialect/contract.ts';
import { makeLens } from '../dialect/make-lens.ts';
import type { Comparison, FactDifference } from '../model/comparison.ts';
import { splitCardPath } from '../model/paths.ts';
import type { Instance } from '../model/resolved.ts';
import type { Project } from '../pipeline.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { Position } from '../vocabulary/positions.ts';
import { soundsSecret } from '../vocabulary/sounds-secret.ts';
import { otherVersions } from './accept-versions.ts';
import { cardVersions } from './card-versions.ts';
import type { CardVersion } from './card-versions.ts';
import { sideOf } from './compare-profiles.ts';
import type { ReadSide } from './compare-profiles.ts';
import { cardTextOf } from './card-text-of.ts';
import { CardTeller } from './card-teller.ts';
import { contextOf } from './lens-context.ts';
import { withUnlisted } from './with-unlisted.ts';

export interface CompareCardOptions {
  readonly card: CardFolders;
  /** Also what the profile leaves alone. */
  readonly all: boolean;
  /** The text of a secret, where it is known: compared, never shown. */
  readonly secretText: (name: string) => string | undefined;
}

/**
 * A profile against a card as it stands, by meaning. Each frontend is read as the version that the card has of it. The
 * card is only read; no record of it is asked.
 */
export async function compareWithCard(side: ReadSide, options: CompareCardOptions): Promise<Comparison> {
  const { parts, named } = side;
  const { project } = named;
  const { resolved, dialects } = parts;
  const base = baseOf(project.files, resolved, dialects, options.card);
  const versions = await cardVersions(resolved.instances, dialects, base);
  const { instances, untold } = readable(project, side, options.card, versions);
  const lenses = new Map<string, Lens>();
  const lensOf = (
    instance: Instance,
    other: { readonly hold?: Position; readonly secretValue?: (name: string) => string } = {},
  ): Lens | undefined => {
    const dialect = dialects.get(instance.name);
    if (dialect === undefined) return undefined;
    const version = versions.find((one) => one.instance === instance.name)?.found ?? instance.version;
    const context = { ...contextOf(resolved, instance, dialect), version, secretValue: options.secretText };
    return makeLens({ ...context, ...other }, syntaxes).value;
  };
  for (const instance of instances) {
    const lens = lensOf(instance);
    if (lens !== undefined) lenses.set(instance.name, lens);
  }
  const compiled = withUnlisted(compile(resolved, lenses).value, lenses, base);
  const card = cardTextOf(project.files, options.card, base);
  const input = {
    compiled,
    lenses,
    lensWith: lensOf,
    card,
    record: undefined,
    only: undefined,
    places: undefined,
    notByHand: new Map(),
  };
  const reading = readCard({ ...input, all: false });
  const known = new Set([...reading.same, ...reading.differences, ...reading.missing].map(placeKey));
  // A file for one system or core that is read over what the profile says of all is a difference as well.
  const beside = readCard({ ...input, all: true }).differences.filter(
    (one) =>
      !known.has(placeKey(one)) && (options.all || (one.decision !== undefined && Object.keys(one.scope).length > 0)),
  );
  const teller = new CardTeller(side, card, lenses, options.secretText);
  const cells = [
    ...reading.same.flatMap((place) =>
      place.decision === undefined ? [] : [teller.same(place, place.decision.value)],
    ),
    ...[...reading.differences, ...beside].flatMap((difference) => teller.other(difference, difference.onCard)),
    ...reading.missing.map((place): CardCell => ({ ...place, onCard: { kind: 'left-alone' } })),
  ];
  const holds = new Map(
    cells.flatMap(({ setting, instance, onCard }): readonly (readonly [string, Position])[] =>
      setting === 'hotkeys.hold' && onCard.kind === 'value' && onCard.value.kind === 'control'
        ? [[instance, onCard.value.position]]
        : [],
    ),
  );
  return compareCard(sideOf(side), {
    instances,
    cells,
    holds,
    facts: [...versionFacts(instances, versions, base), ...extraFacts(side, instances, card, lenses)],
    untold: [...untold, ...teller.untold],
  });
}

/** The frontends that the card has in a folder that was given, in a version whose keys are known. */
function readable(
  project: Project,
  { parts, named }: ReadSide,
  card: CardFolders,
  versions: readonly CardVersion[],
): { readonly instances: readonly Instance[]; readonly untold: readonly string[] } {
  const untold: string[] = [];
  const strange = new Map(
    otherVersions(parts, versions).findings.map((finding) => [finding.instance, finding] as const),
  );
  const instances = parts.resolved.instances.filter((instance) => {
    const { name, root } = instance;
    if (named.instance !== undefined && named.instance !== name) return false;
    const { part, path } = splitCardPath(root);
    const folder = partFolder(project.files, card, part);
    if (folder === undefined) {
      untold.push(`${name} is not compared: it is on the part ${part}, which was not given.`);
      return false;
    }
    if (project.files.kind(project.files.join(folder, ...path.split('/'))) !== 'folder') {
      untold.push(`${name} is not compared: the card has no folder ${root}.`);
      return false;
    }
    const found = versions.find(({ instance: of }) => of === name)?.found;
    if (!strange.has(name)) return true;
    untold.push(
      `${name} is not compared: the card has it in version ${found ?? '?'}, which the dialect ${instance.dialect.data.dialect} does not cover.`,
    );
    return false;
  });
  return { instances, untold };
}

function versionFacts(
  instances: readonly Instance[],
  versions: readonly CardVersion[],
  base: ReturnType<typeof baseOf>,
): readonly FactDifference[] {
  return versions.flatMap(({ instance: name, found, file }): FactDifference[] => {
    const instance = instances.find((one) => one.name === name);
    if (instance === undefined || found === undefined || found === instance.version) return [];
    const source = file === undefined ? undefined : base(file);
    return [
      {
        fact: `${name}, version`,
        a: instance.version === undefined ? undefined : { text: instance.version, place: instance.place },
        b: { text: found, place: source === undefined ? undefined : { source, span: { start: 0, end: 0 } } },
      },
    ];
  });
}

/** Raw keys of the profile that the card has otherwise. */
function extraFacts(
  { parts }: ReadSide,
  instances: readonly Instance[],
  card: CardText,
  lenses: ReadonlyMap<string, Lens>,
): readonly FactDifference[] {
  return parts.resolved.extra.flatMap(({ instance, file, key, text, origin }): FactDifference[] => {
    const path = instances.some(({ name }) => name === instance) ? lenses.get(instance)?.path(file, {}) : undefined;
    if (path === undefined) return [];
    const held = card.look(path, key);
    const shown = held === undefined ? undefined : plainText(held);
    if (shown === text) return [];
    const hidden = soundsSecret(key);
    return [
      {
        fact: `extra ${instance}, ${file}: ${key}`,
        a: { text: hidden ? 'a text' : text, place: origin.place },
        b: shown === undefined ? undefined : { text: hidden ? 'another text' : shown, place: card.place(path, key) },
      },
    ];
  });
}
