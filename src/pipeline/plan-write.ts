import { createHash, createHmac } from 'node:crypto';
import { isInside } from '../1-load/workspace.ts';
import { readSource } from '../1-load/find-file.ts';
import { stockFile } from '../1-load/load-dialect.ts';
import type { LoadedDialect } from '../1-load/load-dialect.ts';
import { secretUses } from '../3-compile/secret-uses.ts';
import type { SecretUse } from '../3-compile/secret-uses.ts';
import type { Said } from '../4-plan/classify-key.ts';
import { planFiles } from '../4-plan/merge-keys.ts';
import type { CardText } from '../4-plan/merge-keys.ts';
import { saveRisks } from '../4-plan/save-risks.ts';
import { whatChanged } from '../4-plan/what-changed.ts';
import type { FileNews } from '../4-plan/what-changed.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import type { Compiled, Edit, WholeFile } from '../model/compiled.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Plan } from '../model/plan.ts';
import type { CardRecord, RecordedFile } from '../model/record.ts';
import type { Resolved } from '../model/resolved.ts';
import type { PreparedParts } from '../pipeline.ts';
import { keyId } from '../4-plan/subject.ts';
import { syntaxes } from '../syntax/registry.ts';
import { encodeText } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import { checkCarried } from './check-carried.ts';
import type { SecretOrigin } from './check-carried.ts';
import { renewTexts } from './renew-texts.ts';
import { sameByLens } from './same-by-lens.ts';
import { recordedInstances } from './recorded-instances.ts';
import { withUnlisted } from './with-unlisted.ts';

export { keyId };
export type { Said };

export interface PlanInput {
  readonly parts: PreparedParts;
  /** Where each part that can be reached is mounted. */
  readonly folders: ReadonlyMap<string, HostPath>;
  readonly card: string;
  readonly record: CardRecord | undefined;
  /** Parts that get the id file. */
  readonly mark: readonly string[];
  /** Frontend versions on the card, by instance, as far as the card tells. */
  readonly versions: ReadonlyMap<string, string | undefined>;
  secret(name: string): string | undefined;
  /** The private key for keyed hashes. */
  readonly key: string;
  readonly takeProfile: boolean;
  readonly answers: ReadonlyMap<string, Said>;
  /** What `fetch` brought of the versions on the card. */
  readonly fetched?: (path: CardPath) => SourceText | undefined;
  /** A bundle is not known to have reached files of parts that cannot be reached now. */
  readonly stillPending: boolean;
  /** The texts as the last write left them. */
  seen(path: CardPath): SourceText | undefined;
}

export interface WritePlan {
  readonly plan: Plan;
  /** What somebody else did to our files since the last write. */
  readonly news: readonly FileNews[];
  /** Processes that write the files of this plan when they end: a device that only sleeps undoes it. */
  readonly rewriters: readonly string[];
  /** Secrets that the card will hold. */
  readonly secrets: readonly SecretUse[];
  /** Files of parts that were not given: nothing is planned for them. */
  readonly unreached: readonly { readonly part: string; readonly files: number; readonly keys: number }[];
  card(path: CardPath): SourceText | undefined;
}

/** The card's own text at a path; a link that leads out of its part is not followed. */
export function cardReader(files: Files, folders: ReadonlyMap<string, HostPath>): (path: CardPath) => CardText {
  const known = new Map<CardPath, CardText>();
  const read = (path: CardPath): CardText => {
    const { part, path: inPart } = splitCardPath(path);
    const folder = folders.get(part);
    if (folder === undefined) return { kind: 'absent' };
    const host = files.join(folder, ...inPart.split('/'));
    if (files.kind(host) === undefined) return { kind: 'absent' };
    if (!isInside(files, { folder, real: files.real(folder) ?? folder, label: '' }, host)) return { kind: 'absent' };
    const source = readSource(files, host, path);
    return source.value === undefined
      ? { kind: 'unreadable', findings: source.findings }
      : { kind: 'text', source: source.value };
  };
  return (path) => {
    let text = known.get(path);
    if (text === undefined) known.set(path, (text = read(path)));
    return text;
  };
}

/** SHA-256 in hex; by the key where there is one. */
export function fingerprintOf(bytes: Uint8Array, key: string | undefined): string {
  return (key === undefined ? createHash('sha256') : createHmac('sha256', key)).update(bytes).digest('hex');
}

/** Merges a compiled profile with a card that is mounted. Only reads. */
export function planWrite(files: Files, input: PlanInput): Outcome<WritePlan> {
  const { parts, folders, record } = input;
  const { resolved } = parts;
  const reached = (path: CardPath): boolean => folders.has(splitCardPath(path).part);
  const card = cardReader(files, folders);
  const cardSource = (path: CardPath): SourceText | undefined => {
    const text = card(path);
    return text.kind === 'text' ? text.source : undefined;
  };
  const reachedFiles = (record?.files ?? []).filter(({ path }) => reached(path));
  const whole = withUnlisted(parts.compiled, parts.lenses, cardSource, reachedFiles, record);
  const compiled: Compiled = {
    ...whole,
    edits: whole.edits.filter(({ path }) => reached(path)),
    wholeFiles: whole.wholeFiles.filter(({ path }) => reached(path)),
  };
  const uses = secretUses(compiled);
  const same = sameByLens(compiled, parts.lenses);
  const versions = new Map(
    resolved.instances.map(({ name, version }) => [name, input.versions.get(name) ?? version] as const),
  );
  const merged = planFiles({
    compiled,
    record: record === undefined ? undefined : { ...record, files: reachedFiles },
    card,
    stock: (path) => stockText(files, parts, versions, path),
    ...(input.fetched === undefined ? {} : { fetched: input.fetched }),
    versions,
    same,
    renewed: renewTexts(resolved, parts.dialects, parts.lenses, record, versions),
    secrets: { ...secretNames(uses), find: (name) => input.secret(name) },
    hash: {
      plain: (text) => fingerprintOf(encodeText(text), undefined),
      keyed: (text) => fingerprintOf(encodeText(text), input.key),
    },
    takeProfile: input.takeProfile,
    answers: input.answers,
    syntaxes,
  });
  const kept = (record?.files ?? []).filter(({ path }) => !reached(path));
  const plan: Plan = {
    device: resolved.device.id,
    card: input.card,
    parts: [...folders.keys()].map((name) => ({ name, mark: input.mark.includes(name) })),
    files: merged.value.files,
    saveRisks: saveRisks(merged.value.files),
    record: {
      card: input.card,
      device: resolved.device.id,
      state: input.stillPending ? 'pending' : 'written',
      instances: recordedInstances(compiled, versions, merged.value.record, record),
      files: byPath([...merged.value.record, ...kept]),
    },
  };
  return {
    value: {
      plan,
      news: whatChanged(
        record?.files ?? [],
        plan.files,
        (path) => input.seen(path),
        cardSource,
        syntaxes,
        (instance) => processOf(resolved, instance),
      ),
      rewriters: rewritersOf(plan, resolved),
      secrets: uses,
      unreached: unreached(parts.compiled, reached),
      card: cardSource,
    },
    // Told before the question; `preparePlan` asks again, of the texts that the secrets have where it is carried out.
    findings: [
      ...merged.findings,
      ...checkCarried(
        plan.files,
        cardSource,
        (name) => input.secret(name),
        (path, name) => originOf(uses, path, name),
      ),
    ],
  };
}

function originOf(uses: readonly SecretUse[], path: CardPath, name: string): ReturnType<SecretOrigin> {
  const use = uses.find((one) => one.name === name && one.files.includes(path));
  return use === undefined ? {} : { place: use.decision.origin.place, setting: use.setting, instance: use.instance };
}

function processOf({ instances }: Resolved, instance: string): string | undefined {
  return instances.find(({ name }) => name === instance)?.dialect.data.process;
}

function rewritersOf({ files }: Plan, resolved: Resolved): readonly string[] {
  const names = files.flatMap(({ act, instances }) =>
    act === 'nothing' ? [] : instances.flatMap((instance) => processOf(resolved, instance) ?? []),
  );
  return [...new Set(names)].sort();
}

function secretNames(uses: readonly SecretUse[]): {
  namesIn(edit: Edit): readonly string[];
  namesInFile(file: WholeFile): readonly string[];
} {
  const names = (instance: string, path: CardPath, settings: readonly string[]): readonly string[] => [
    ...new Set(
      uses
        .filter((use) => use.instance === instance && use.files.includes(path) && settings.includes(use.setting))
        .map(({ name }) => name),
    ),
  ];
  return {
    namesIn: ({ instance, path, setting }) => names(instance, path, [setting]),
    namesInFile: ({ instance, path, decisions }) =>
      names(
        instance,
        path,
        decisions.map(({ setting }) => setting),
      ),
  };
}

function stockText(
  files: Files,
  { resolved, dialects }: PreparedParts,
  versions: ReadonlyMap<string, string | undefined>,
  path: CardPath,
): SourceText | undefined {
  for (const instance of resolved.instances) {
    const dialect: LoadedDialect | undefined = dialects.get(instance.name);
    const version = versions.get(instance.name);
    const prefix = instance.root.endsWith(':') ? instance.root : `${instance.root}/`;
    if (dialect === undefined || version === undefined || !path.startsWith(prefix)) continue;
    const stock = stockFile(files, dialect, version, path.slice(prefix.length));
    if (stock !== undefined) return stock;
  }
  return undefined;
}

function byPath(files: readonly RecordedFile[]): readonly RecordedFile[] {
  return [...files].sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
}

function unreached(compiled: Compiled, reached: (path: CardPath) => boolean): WritePlan['unreached'] {
  const parts = new Map<string, { files: Set<CardPath>; keys: number }>();
  const count = (path: CardPath, keys: number): void => {
    if (reached(path)) return;
    const { part } = splitCardPath(path);
    const known = parts.get(part) ?? { files: new Set<CardPath>(), keys: 0 };
    parts.set(part, known);
    known.files.add(path);
    known.keys += keys;
  };
  for (const { path } of compiled.edits) count(path, 1);
  for (const { path } of compiled.wholeFiles) count(path, 0);
  return [...parts].map(([part, { files, keys }]) => ({ part, files: files.size, keys }));
}
