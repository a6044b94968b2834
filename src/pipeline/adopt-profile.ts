import { baseOf } from '../1-load/base-files.ts';
import type { CardFolders } from '../1-load/base-files.ts';
import { adopt } from '../adopt/adopt.ts';
import type { AdoptPlan } from '../adopt/adopt.ts';
import { placeKey } from '../adopt/difference.ts';
import type { CardBase } from '../adopt/card-text.ts';
import type { NotByHand } from '../adopt/wanted-of.ts';
import type { TryTexts, World } from '../adopt/world.ts';
import { makeLens } from '../dialect/make-lens.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import { overlayFiles } from '../files/overlay.ts';
import type { Adoption, SettingPlace } from '../model/adoption.ts';
import type { LayerDocument } from '../model/document.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import { hostOf, prepareProfile, profilePaths } from '../pipeline.ts';
import type { Prepared, Project } from '../pipeline.ts';
import { syntaxes } from '../syntax/registry.ts';
import { encodeText } from '../text/encoding.ts';
import { adoptionOf } from './adoption-of.ts';
import { cardTextOf } from './card-text-of.ts';
import { contextOf } from './lens-context.ts';
import { spellSecrets } from './spell-secrets.ts';
import { withUnlisted } from './with-unlisted.ts';

export interface AdoptOptions {
  readonly card: CardFolders;
  readonly record: CardRecord | undefined;
  readonly all: boolean;
  readonly only: ReadonlySet<string> | undefined;
  /** Only there, where given. */
  readonly places?: readonly SettingPlace[];
  readonly at: string | undefined;
  /** The text of a secret, where it is known. */
  readonly secretText: (name: string) => string | undefined;
  readonly alternatives: boolean;
  /** By `notByHand`, where there is a record. */
  readonly notByHand: NotByHand;
}

/** What a card would have a profile say. Undefined when the profile cannot be compiled. Nothing is written. */
export function adoptProfile(
  project: Project,
  path: HostPath,
  options: AdoptOptions,
): Outcome<{ readonly plan: AdoptPlan; readonly told: Adoption } | undefined> {
  const prepared = prepareProfile(project, path, false);
  if (prepared.parts === undefined) return { value: undefined, findings: prepared.findings };
  const { resolved, dialects } = prepared.parts;
  const base = baseOf(project.files, resolved, dialects, options.card);
  const now = worldOf(prepared, options.secretText, base);
  if (now === undefined) return { value: undefined, findings: prepared.findings };
  const card = cardTextOf(project.files, options.card, base);
  const others = new OtherProfiles(project, path);
  const plan = adopt({
    world: now,
    tryTexts: trying(project, path, options, base),
    card,
    record: options.record,
    all: options.all,
    only: options.only,
    places: options.places === undefined ? undefined : new Set(options.places.map(placeKey)),
    at: options.at,
    writable: (document) => hostOf(project, document.source) !== undefined,
    sharedWith: (document, at) => others.sharing(document, at),
    secretText: options.secretText,
    alternatives: options.alternatives,
    notByHand: options.notByHand,
  });
  return { value: { plan, told: adoptionOf(project, prepared.name, plan) }, findings: prepared.findings };
}

/** The profile with other texts, on a disk that only seems to hold them. */
function trying(project: Project, path: HostPath, options: AdoptOptions, base: CardBase): TryTexts {
  return (texts, secrets) => {
    const changed = new Map<HostPath, Uint8Array>();
    for (const [name, text] of texts) {
      const host = hostOf(project, { name, text });
      if (host !== undefined) changed.set(host, encodeText(text));
    }
    const files = overlayFiles(project.files, changed);
    const prepared = prepareProfile({ ...project, files }, path, false);
    return worldOf(prepared, (name) => secrets.get(name) ?? options.secretText(name), base);
  };
}

function worldOf(prepared: Prepared, find: (name: string) => string | undefined, base: CardBase): World | undefined {
  const { parts } = prepared;
  if (parts === undefined) return undefined;
  const spelled = spellSecrets(parts, find);
  return {
    layers: parts.layers.map(({ document }) => document),
    compiled: withUnlisted(spelled.value.compiled, spelled.value.lenses, base),
    lenses: spelled.value.lenses,
    lensWith(instance, { hold, secretValue = find }) {
      const dialect = parts.dialects.get(instance.name);
      if (dialect === undefined) return undefined;
      const context = contextOf(parts.resolved, instance, dialect);
      return makeLens({ ...context, secretValue, ...(hold === undefined ? {} : { hold }) }, syntaxes).value;
    },
    errors: prepared.findings.filter(({ grade }) => grade === 'error').length,
  };
}

/** The workspace's other profiles, compiled when they are first asked for. */
class OtherProfiles {
  readonly #project: Project;
  readonly #path: HostPath;
  #known: readonly Prepared[] | undefined;

  constructor(project: Project, path: HostPath) {
    this.#project = project;
    this.#path = path;
  }

  /** Names of the profiles in which a line of a layer decides something. */
  sharing(document: LayerDocument, at: readonly (string | number)[]): readonly string[] {
    this.#known ??= profilePaths(this.#project)
      .filter(({ path }) => path !== this.#path)
      .map(({ path }) => prepareProfile(this.#project, path, false));
    return this.#known
      .filter(({ parts }) =>
        // A line that is to be added would speak to all that extend the layer.
        this.#has(document, at)
          ? parts?.compiled.fidelity.some(
              ({ decision: { origin } }) =>
                origin.document.source.name === document.source.name &&
                JSON.stringify(origin.path) === JSON.stringify(at),
            )
          : parts?.layers.some((layer) => layer.document.source.name === document.source.name),
      )
      .map(({ name }) => name);
  }

  #has(document: LayerDocument, at: readonly (string | number)[]): boolean {
    const { span } = document.place(at);
    const above = document.place(at.slice(0, -1)).span;
    return span.start !== above.start || span.end !== above.end;
  }
}
