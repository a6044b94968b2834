import { settingPath } from '../adopt/setting-path.ts';
import { valueAt } from '../model/value-at.ts';
import { spellYaml } from '../adopt/spell-yaml.ts';
import { writeSites } from '../adopt/write-site.ts';
import type { SiteChange } from '../adopt/write-site.ts';
import { bring } from '../compare/refit/bring.ts';
import type { Brought } from '../compare/refit/bring.ts';
import { changesOf } from '../compare/refit/changes.ts';
import type { Change } from '../compare/refit/changes.ts';
import { mayHold } from '../compare/refit/kinds.ts';
import { refit } from '../compare/refit/refit.ts';
import type { Refitted } from '../compare/refit/refit.ts';
import { makeLens } from '../dialect/make-lens.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { overlayFiles } from '../files/overlay.ts';
import type { LayerDocument } from '../model/document.ts';
import type { HostPath } from '../model/paths.ts';
import type { RefitFile } from '../model/refit.ts';
import type { Decision, Resolved, Selectors } from '../model/resolved.ts';
import { sameValue } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import { prepareProfile, runProfile } from '../pipeline.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import { syntaxes } from '../syntax/registry.ts';
import { encodeText } from '../text/encoding.ts';
import { refitTerms } from '../vocabulary/refit-terms.ts';
import type { RefitWeights } from '../vocabulary/refit-terms.ts';
import { settingById } from '../vocabulary/registry.ts';
import { contextOf } from './lens-context.ts';

/** A refit worked out, before anything of it is written. */
export interface RefitRun {
  readonly from: Resolved;
  readonly to: Resolved;
  readonly brought: Brought;
  readonly refitted: Refitted;
  /** By proposal. */
  readonly taken: readonly Taken[];
}

/** What taking a proposal would write into the target's profile; findings where it cannot be written so. */
export interface Taken {
  readonly changes: readonly SiteChange[];
  readonly wanted: readonly Change[];
  /** Undefined: nothing differs, or it cannot be written. */
  readonly file: RefitFile | undefined;
  /** The target's profile as it would be. */
  readonly document: LayerDocument;
  /** Errors that it would bring. */
  readonly findings: readonly Finding[];
}

/** Works out the best ways to give one profile's hotkeys and pad settings to another one's device. Nothing is written. */
export function refitProfile(project: Project, fromPath: HostPath, toPath: HostPath): Outcome<RefitRun | undefined> {
  const from = prepareProfile(project, fromPath, false);
  const to = prepareProfile(project, toPath, false);
  const findings = [...from.findings, ...to.findings];
  const profile = to.parts?.resolved.profile;
  if (from.parts === undefined || to.parts === undefined || profile === undefined)
    return { value: undefined, findings };
  const [here, there] = [from.parts.resolved, to.parts.resolved];
  const lenses = lensesOf(to.parts, here);
  const shared = new Set(here.layers.map(({ source }) => source.name));
  const own = there.layers.filter(({ source }) => !shared.has(source.name));
  const brought = bring({
    from: here,
    to: there,
    lens: (instance) => lenses.get(instance),
    pins: new Set(pinsOf(here.layers)),
    ownPins: new Set(pinsOf(own)),
    weights: weightsOf([...here.layers, ...own]),
  });
  const refitted = refit(brought.problem);
  const before = runProfile(project, toPath, { card: undefined, newest: false }).findings;
  const taken = refitted.proposals.map((proposal) =>
    take(project, toPath, there, brought, changesOf(brought, proposal, there), before),
  );
  return { value: { from: here, to: there, brought, refitted, taken }, findings };
}

function pinsOf(layers: readonly LayerDocument[]): readonly string[] {
  return layers.findLast(({ data }) => data.refit?.pin !== undefined)?.data.refit?.pin ?? [];
}

/** The last layer that names a term has the say. */
function weightsOf(layers: readonly LayerDocument[]): RefitWeights {
  const said = (term: (typeof refitTerms)[number]['name']): number | undefined =>
    layers.findLast(({ data }) => data.refit?.weights?.[term] !== undefined)?.data.refit?.weights?.[term];
  const [dropped, moved, beside, unwished, position, label, hand, finger, kind] = refitTerms.map(
    ({ name, points }) => said(name) ?? points,
  );
  return {
    dropped: dropped ?? 0,
    moved: moved ?? 0,
    beside: beside ?? 0,
    unwished: unwished ?? 0,
    position: position ?? 0,
    label: label ?? 0,
    hand: hand ?? 0,
    finger: finger ?? 0,
    kind: kind ?? 0,
  };
}

/** The target's lenses, each with some hold control: a dialect that writes it into every chord can say none without. */
function lensesOf(
  { resolved, dialects }: PreparedParts,
  from: Resolved,
): ReadonlyMap<string, ReturnType<typeof makeLens>['value']> {
  const there = resolved.device.controls.controls;
  const known = [...from.holds.values()].find((position) => there.has(position));
  const any = known ?? [...there.keys()].find(mayHold);
  return new Map(
    resolved.instances.flatMap((instance) => {
      const dialect = dialects.get(instance.name);
      if (dialect === undefined) return [];
      const context = contextOf(resolved, instance, dialect);
      return [[instance.name, makeLens({ ...context, hold: context.hold ?? any }, syntaxes).value] as const];
    }),
  );
}

/** Writes a proposal into the profile's text, and tries what becomes of it. */
function take(
  project: Project,
  path: HostPath,
  to: Resolved,
  brought: Brought,
  wanted: readonly Change[],
  before: readonly Finding[],
): Taken {
  const { profile } = to;
  const changes = wanted.map((change): SiteChange => siteOf(change, profile, to));
  const written = writeSites(changes, profile);
  const text = written.value.get(profile.source.name)?.text;
  const none = { changes, wanted, file: undefined, document: profile };
  if (written.findings.length > 0) return { ...none, findings: written.findings };
  if (text === undefined) return { ...none, findings: [] };
  const files = overlayFiles(project.files, new Map([[path, encodeText(text)]]));
  const run = runProfile({ ...project, files }, path, { card: undefined, newest: false });
  // The same mistake may be told with another culprit: of a setting, its code says which it is.
  const key = ({ code, setting, instance, detail }: Finding): string =>
    JSON.stringify([code, instance, setting ?? detail]);
  const known = new Set(before.map(key));
  const ours = new Set(wanted.map(({ setting }) => setting));
  const fresh = run.findings.filter(
    (finding) =>
      finding.grade === 'error' &&
      !known.has(key(finding)) &&
      // What cannot be said anywhere is only told of a profile that has no other error: it may have been so before.
      (finding.code !== 'nowhere-expressible' || ours.has(finding.setting ?? '')),
  );
  const now = run.parts?.resolved;
  const strayed = now === undefined ? [] : strayedOf(brought, to, now, wanted);
  if (strayed.length > 0) return take(project, path, to, brought, [...wanted, ...strayed], before);
  if (fresh.length > 0 || now === undefined) return { ...none, findings: fresh };
  for (const { setting, spots, value } of wanted)
    for (const k of spots) {
      const spot = brought.spots[k];
      const instance = now.instances.find(({ name }) => name === spot?.instance.name);
      const got = spot === undefined || instance === undefined ? undefined : now.decide(instance, setting, spot.point);
      if (got === undefined || !sameValue(got.value, value))
        throw new Error(
          `A refit that does not take: ${setting} on ${instance?.name ?? ''} is ${JSON.stringify(got?.value)}, not ${JSON.stringify(value)}. This is a bug in thumbwright.`,
        );
    }
  return { changes, wanted, file: { path, name: profile.source.name, text }, document: now.profile, findings: [] };
}

/**
 * What the target has of its own and keeps, where it would go elsewhere: a better wish of it is set free. It is told to
 * stay where it is.
 */
function strayedOf(brought: Brought, to: Resolved, now: Resolved, wanted: readonly Change[]): readonly Change[] {
  return brought.problem.standing.flatMap(({ action, spots }) => {
    const setting = `hotkeys.bind.${action}`;
    const told = wanted.filter((change) => change.setting === setting).flatMap((change) => change.spots);
    const byOrigin = new Map<Decision['origin'], { readonly value: Value; readonly spots: number[] }>();
    for (const k of spots) {
      const spot = brought.spots[k];
      const instance = now.instances.find(({ name }) => name === spot?.instance.name);
      if (spot === undefined || instance === undefined || told.includes(k)) continue;
      const was = to.decide(spot.instance, setting, spot.point);
      const is = now.decide(instance, setting, spot.point);
      if (was === undefined || (is !== undefined && sameValue(was.value, is.value))) continue;
      const known = byOrigin.get(was.origin);
      if (known === undefined) byOrigin.set(was.origin, { value: was.value, spots: [k] });
      else known.spots.push(k);
    }
    return [...byOrigin].map(([origin, { value, spots: strayed }]): Change => ({
      setting,
      selectors: to.candidates.find((candidate) => candidate.origin === origin)?.selectors ?? {},
      value,
      spots: strayed,
      ifPresent: false,
    }));
  });
}

/** Where the target's profile says a setting: at its top, in its block of the same reach, or in a new one. */
function siteOf({ setting, selectors, value }: Change, profile: LayerDocument, to: Resolved): SiteChange {
  const path = settingPath(setting, undefined, {})?.path ?? [];
  const definition = settingById(setting);
  const block = (profile.data.only ?? []).findIndex((one) => sameReach(one.for, selectors));
  const whole = Object.keys(selectors).length === 0;
  const at = whole ? path : ['only', block, ...path];
  const found = whole || block >= 0;
  const existing = found ? valueAt(profile.data, at) : undefined;
  const spelled =
    definition === undefined
      ? undefined
      : spellYaml(definition, value, { written: existing, controls: to.device.controls }).at(-1);
  return {
    site: {
      kind: whole ? 'top' : found ? 'block' : 'new-block',
      document: profile,
      path: found ? at : path,
      written: existing,
      ...(found ? {} : { selectors }),
      layer: '',
    },
    value: spelled ?? null,
    raw: [],
  };
}

function sameReach(
  written: Readonly<Partial<Record<keyof Selectors, string | readonly string[]>>>,
  selectors: Selectors,
): boolean {
  const list = (given: string | readonly string[] | undefined): string =>
    JSON.stringify(typeof given === 'string' ? [given] : given);
  return (['frontend', 'core', 'system', 'game'] as const).every(
    (name) => list(written[name]) === list(selectors[name]),
  );
}
