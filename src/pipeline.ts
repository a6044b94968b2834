import { baseOf, partFolder } from './1-load/base-files.ts';
import type { CardFolders } from './1-load/base-files.ts';
import { cardFacts } from './1-load/card-facts.ts';
import { loadCatalog, loadDialect } from './1-load/load-dialect.ts';
import type { LoadedDialect } from './1-load/load-dialect.ts';
import { findFile, readSource } from './1-load/find-file.ts';
import { kindOf } from './1-load/file-kind.ts';
import { loadLayers } from './1-load/load-layers.ts';
import type { Layer } from './1-load/load-layers.ts';
import { printLock, readLock } from './1-load/lock.ts';
import type { Pins } from './1-load/lock.ts';
import { readShelf } from './1-load/shelf.ts';
import type { Shelf } from './1-load/shelf.ts';
import { findWorkspace, isInside, shownName } from './1-load/workspace.ts';
import type { Workspace } from './1-load/workspace.ts';
import { completeFacts } from './2-resolve/complete-facts.ts';
import { mergeFacts } from './2-resolve/merge-facts.ts';
import { instanceEntries } from './2-resolve/read-instances.ts';
import { resolve } from './2-resolve/resolve.ts';
import { compile } from './3-compile/compile.ts';
import { buildFiles } from './4-plan/build-files.ts';
import { checkDialect } from './dialect/check-dialect.ts';
import type { KeyLookup, Lens } from './dialect/contract.ts';
import { makeLens } from './dialect/make-lens.ts';
import type { Capture } from './controls/capture/capture.ts';
import { readCapture } from './controls/capture/read-capture.ts';
import { keyLookup, standingTrees } from './pipeline/standing-trees.ts';
import type { Finding, Outcome } from './diagnostics/finding.ts';
import type { Files } from './files/contract.ts';
import type { Disk } from './files/disk.ts';
import type { CardRoom } from './model/card.ts';
import type { Built, Compiled, Edit } from './model/compiled.ts';
import type { CatalogDocument, DialectDocument } from './model/document.ts';
import type { HostPath } from './model/paths.ts';
import type { Decision, Resolved } from './model/resolved.ts';
import { sameValue } from './model/value.ts';
import { sameText } from './model/same-text.ts';
import { withUnlisted } from './pipeline/with-unlisted.ts';
import { applyAllowances } from './rules/allowances.ts';
import type { RuleInput } from './rules/contract.ts';
import { easyHandsRules } from './rules/easy-hands/list.ts';
import { givenParts } from './pipeline/given-parts.ts';
import { roomOnCard } from './pipeline/room-on-card.ts';
import { hideSecrets } from './pipeline/hide-secrets.ts';
import { contextOf } from './pipeline/lens-context.ts';
import { rules } from './rules/list.ts';
import { syntaxes } from './syntax/registry.ts';
import type { SourceText } from './text/source-text.ts';

/** One workspace, opened once: its dialects and catalogs are read once for all profiles. */
export interface Project {
  readonly files: Files;
  readonly workspace: Workspace;
  readonly root: HostPath;
  /** The folder of the profiles. */
  readonly profiles: HostPath;
  readonly lockPath: HostPath;
  readonly pins: Pins;
  readonly dialectShelf: Shelf;
  readonly catalogShelf: Shelf;
  readonly dialects: Map<string, Outcome<LoadedDialect | undefined>>;
  readonly catalogs: Map<string, Outcome<CatalogDocument | undefined>>;
  /** Findings of a dialect by itself, by its path, once for all profiles. */
  readonly checkedDialects: Map<DialectDocument, readonly Finding[]>;
  /** The file behind each text of the person's own, for mends. */
  readonly hosts: Map<string, HostPath>;
}

export type { CardFolders };

export interface RunOptions {
  readonly card: CardFolders | undefined;
  /** Ignore the pins of the lock file. */
  readonly newest: boolean;
  /** The disk in single steps, where the room on the card is to be reckoned. */
  readonly disk?: Disk;
  /** Check against game-accessibility guidance as well. */
  readonly easyHands?: boolean;
}

/** What became of one profile. `built` is undefined when it could not be compiled at all. */
export interface ProfileRun {
  readonly name: string;
  readonly findings: readonly Finding[];
  readonly built: Built | undefined;
  /** What it was built from; undefined with it. */
  readonly parts: PreparedParts | undefined;
  /** What a write would take of the card, where it was asked for. */
  readonly room: readonly CardRoom[];
  /** Dialect versions taken, by the reference as written. */
  readonly pins: Pins;
}

/** Undefined without findings: there is no workspace here. */
export function openProject(files: Files, here: HostPath): Outcome<Project | undefined> {
  const workspace = findWorkspace(files, here);
  if (workspace === undefined) return { value: undefined, findings: [] };
  const lockPath = files.join(workspace.base.folder, '.thumbwright', 'lock.yaml');
  const lockText =
    files.kind(lockPath) === undefined ? undefined : readSource(files, lockPath, '.thumbwright/lock.yaml');
  const lock = lockText?.value === undefined ? undefined : readLock(lockText.value);
  const dialectShelf = readShelf(files, workspace, 'dialect');
  const findings = [...(lockText?.findings ?? []), ...(lock?.findings ?? []), ...dialectShelf.findings];
  return {
    value: {
      files,
      workspace,
      root: workspace.base.folder,
      profiles: workspace.profiles,
      lockPath,
      pins: lock?.value ?? new Map(),
      dialectShelf,
      catalogShelf: readShelf(files, workspace, 'catalog'),
      dialects: new Map(),
      catalogs: new Map(),
      checkedDialects: new Map(),
      hosts: new Map(),
    },
    findings,
  };
}

/** The workspace's profiles: files of the profiles folder whose first key is `profile`, by file name. */
export function profilePaths(project: Project): readonly { readonly name: string; readonly path: HostPath }[] {
  const { files, profiles, workspace } = project;
  return (files.list(profiles) ?? []).flatMap((entry) => {
    if (entry.kind === 'folder' || !/\.ya?ml$/i.test(entry.name)) return [];
    const path = files.join(profiles, entry.name);
    if (!isInside(files, workspace.base, path)) return [];
    const name = entry.name.replace(/\.ya?ml$/i, '');
    const source = readSource(files, path, shownName(workspace.base, path)).value;
    // What cannot be told for anything else may be a profile with a misspelt first key: better a finding than silence.
    const kind = source === undefined ? 'profile' : kindOf(source.text);
    return kind === undefined || kind === 'profile' ? [{ name, path }] : [];
  });
}

/** The file behind a text that was read, where it is the person's own. */
export function hostOf(project: Project, source: SourceText): HostPath | undefined {
  const known = project.hosts.get(source.name);
  if (known !== undefined) return known;
  const { files, workspace } = project;
  if (source.name.startsWith('package:') || source.name.includes(':')) return undefined;
  const path = files.join(workspace.base.folder, ...source.name.split('/'));
  return files.kind(path) === undefined || !isInside(files, workspace.base, path) ? undefined : path;
}

/** Findings that several profiles share (of a house, a dialect) once. */
export function withoutTwins(findings: readonly Finding[]): readonly Finding[] {
  const seen = new Set<string>();
  const placed = new Set(
    findings.filter((finding) => finding.place !== undefined).map((finding) => `${finding.code}\n${finding.detail}`),
  );
  return findings.filter((finding) => {
    if (finding.place === undefined && placed.has(`${finding.code}\n${finding.detail}`)) return false;
    const key = [finding.code, finding.place?.source.name, finding.place?.span.start, finding.detail].join('\n');
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** The lock file's path and text when the runs took other versions than it says. */
export function projectLock(
  project: Project,
  runs: readonly ProfileRun[],
): { readonly path: HostPath; readonly text: string } | undefined {
  const pins = new Map(project.pins);
  for (const run of runs) for (const [reference, pin] of run.pins) pins.set(reference, pin);
  return { path: project.lockPath, text: printLock(pins) };
}

const lossCodes: ReadonlySet<string> = new Set([
  'nowhere-expressible',
  'instances-will-differ',
  'mapping-without-capture',
  'mapping-undecided',
]);

/** One profile loaded, resolved and compiled, before anything is laid into files. */
export interface Prepared {
  readonly name: string;
  readonly findings: readonly Finding[];
  readonly pins: Pins;
  /** Undefined when it could not be compiled at all. */
  readonly parts: PreparedParts | undefined;
}

export interface PreparedParts {
  readonly layers: readonly Layer[];
  readonly resolved: Resolved;
  readonly compiled: Compiled;
  /** By instance. */
  readonly lenses: ReadonlyMap<string, Lens>;
  /** By instance. */
  readonly dialects: ReadonlyMap<string, LoadedDialect>;
}

/** Loads, resolves and compiles one profile. */
export function prepareProfile(project: Project, path: HostPath, newest: boolean): Prepared {
  const { files, workspace } = project;
  const shown = shownName(workspace.base, path);
  const name = shown.replace(/^.*\//, '').replace(/\.ya?ml$/i, '');
  const loaded = loadLayers(files, workspace, path);
  if (loaded.value === undefined) return { name, findings: loaded.findings, pins: new Map(), parts: undefined };
  const layers = loaded.value;
  const documents = layers.map((layer) => layer.document);
  for (const layer of layers) project.hosts.set(layer.document.source.name, layer.path);
  const completed = completeFacts(mergeFacts(documents));
  const facts = completed.value;
  const findings: Finding[] = [...loaded.findings, ...completed.findings];

  const dialects = new Map<string, LoadedDialect>();
  const pins = new Map<string, { readonly version: string; readonly sha256: string }>();
  for (const entry of instanceEntries(facts)) {
    const at = [...entry.path, 'dialect'];
    const layer = layerOf(layers, facts.document(at)) ?? layers.at(-1);
    if (layer === undefined) continue;
    const dialect = takeDialect(project, { written: entry.written.dialect, place: facts.place(at), layer }, newest);
    findings.push(...dialect.findings);
    if (dialect.value === undefined) continue;
    dialects.set(entry.name, dialect.value);
    if (!/\.ya?ml$/i.test(entry.written.dialect))
      pins.set(entry.written.dialect, { version: dialect.value.document.data.version, sha256: dialect.value.sha256 });
    findings.push(...dialectFindings(project, dialect.value));
  }
  const catalog = takeCatalog(project, layers, facts.catalog, facts);
  findings.push(...catalog.findings);

  const capture = takeCapture(project, layers, facts);
  findings.push(...capture.findings);
  // Without its controls nearly everything of a device would be reported as missing.
  if (capture.findings.some(({ grade }) => grade === 'error')) return { name, findings, pins, parts: undefined };

  const resolved = resolve({
    layers: documents,
    facts,
    capture: capture.value,
    dialects: new Map([...dialects].map(([instance, dialect]) => [instance, dialect.document])),
    catalog: catalog.value,
  });
  findings.push(...resolved.findings);
  const lenses = new Map<string, Lens>();
  for (const instance of resolved.value.instances) {
    const dialect = dialects.get(instance.name);
    if (dialect === undefined) continue;
    const lens = makeLens(contextOf(resolved.value, instance, dialect), syntaxes);
    findings.push(...lens.findings);
    lenses.set(instance.name, lens.value);
  }
  const compiled = compile(resolved.value, lenses);
  // With a mistake in what is compiled, that something cannot be said is mostly the same mistake.
  const faulty = findings.some((finding) => finding.grade === 'error');
  findings.push(...compiled.findings.filter((finding) => !faulty || !lossCodes.has(finding.code)));
  return {
    name: resolved.value.device.id,
    findings,
    pins,
    parts: { layers, resolved: resolved.value, compiled: compiled.value, lenses, dialects },
  };
}

/** Loads, resolves, compiles, checks and lays out one profile, in memory. Nothing is written. */
export function runProfile(project: Project, path: HostPath, options: RunOptions): ProfileRun {
  const { files } = project;
  const prepared = prepareProfile(project, path, options.newest);
  const { name, pins, parts } = prepared;
  if (parts === undefined) return { name, findings: prepared.findings, built: undefined, parts, room: [], pins };
  const { resolved, lenses, dialects } = parts;
  const findings: Finding[] = [...prepared.findings];
  const base = baseOf(project.files, resolved, dialects, options.card);
  const compiled = withUnlisted(parts.compiled, lenses, base);
  const standing = standingTrees(resolved, base);
  const look = keyLookup(compiled.edits, standing);
  // What is laid out here is shown and kept: a card's passwords are not among it.
  const open = options.card === undefined ? base : hideSecrets(base, { resolved, compiled, lenses });
  const built = buildFiles(compiled, open, syntaxes, alreadyHeld(lenses, look));
  findings.push(...built.findings);

  const room =
    options.card === undefined || options.disk === undefined
      ? []
      : roomOnCard(
          options.disk,
          built.value,
          givenParts(files, [...resolved.device.parts.keys()], options.card).folders,
          base,
        );
  const input: RuleInput = {
    resolved,
    compiled,
    lens: (instance) => lenses.get(instance),
    look,
    tree: standing,
    card:
      options.card === undefined
        ? undefined
        : cardFacts(files, resolved, (part) => partFolder(files, options.card, part), room),
  };
  const easyHands = options.easyHands === true;
  for (const rule of easyHands ? [...rules, ...easyHandsRules] : rules) findings.push(...rule.check(input));
  // Only a write raises the caution of secrets.
  const unasked = ['secrets-in-plain-text', ...(easyHands ? [] : easyHandsRules.flatMap(({ codes }) => codes))];
  const told = applyAllowances(withoutTwins(findings), resolved.allow, unasked);
  return {
    name,
    findings: told,
    built: { compiled, files: built.value, findings: told },
    parts,
    room,
    pins,
  };
}

/** Whether the files before us say a setting's value already: compared as the lens reads, not by spelling. */
function alreadyHeld(lenses: ReadonlyMap<string, Lens>, look: KeyLookup): (edit: Edit) => boolean {
  const known = new Map<Decision, Map<string, boolean>>();
  return (edit) => {
    const { decision } = edit;
    const lens = lenses.get(edit.instance);
    // A raw key is compared by its text, as the merge does: that a number stands bare or in quotes is spelling.
    if (decision === undefined) return sameText(look(edit.path, edit.key), edit.value);
    // A key made from several settings is written as its text says.
    if (lens === undefined || edit.rule.name === 'computed') return false;
    let scopes = known.get(decision);
    if (scopes === undefined) known.set(decision, (scopes = new Map<string, boolean>()));
    const key = JSON.stringify([edit.instance, edit.scope]);
    let answer = scopes.get(key);
    if (answer === undefined) {
      const read = lens.read(edit.setting, edit.scope, look, decision.value, edit.item);
      scopes.set(key, (answer = read.kind === 'value' && sameValue(read.value, decision.value)));
    }
    return answer;
  };
}

function layerOf(layers: readonly Layer[], document: Layer['document']): Layer | undefined {
  return layers.find((layer) => layer.document === document);
}

function takeDialect(
  project: Project,
  reference: { readonly written: string; readonly place: Finding['place'] & object; readonly layer: Layer },
  newest: boolean,
): Outcome<LoadedDialect | undefined> {
  const pinned = newest ? undefined : project.pins.get(reference.written)?.version;
  const key = `${reference.layer.path}\n${reference.written}\n${String(newest)}`;
  const known = project.dialects.get(key);
  // A finding belongs to the place that asked, so that only what loaded well is shared.
  if (known?.value !== undefined) return { value: known.value, findings: [] };
  const loaded = loadDialect(project.files, project.dialectShelf, reference, pinned);
  project.dialects.set(key, loaded);
  return loaded;
}

function dialectFindings(project: Project, dialect: LoadedDialect): readonly Finding[] {
  const known = project.checkedDialects.get(dialect.document);
  if (known !== undefined) return known;
  const findings = checkDialect(dialect.document, dialect.templates, syntaxes);
  project.checkedDialects.set(dialect.document, findings);
  return findings;
}

function takeCatalog(
  project: Project,
  layers: readonly Layer[],
  written: string | undefined,
  facts: ReturnType<typeof mergeFacts>,
): Outcome<CatalogDocument | undefined> {
  if (written === undefined) return { value: undefined, findings: [] };
  const layer = layerOf(layers, facts.document(['catalog'])) ?? layers.at(-1);
  if (layer === undefined) return { value: undefined, findings: [] };
  const key = `${layer.path}\n${written}`;
  const known = project.catalogs.get(key);
  if (known?.value !== undefined) return { value: known.value, findings: [] };
  const loaded = loadCatalog(project.files, project.catalogShelf, { written, place: facts.place(['catalog']), layer });
  project.catalogs.set(key, loaded);
  return loaded;
}

/** What the capture file of the device says of its controls. */
function takeCapture(
  project: Project,
  layers: readonly Layer[],
  facts: ReturnType<typeof mergeFacts>,
): Outcome<Capture | undefined> {
  const path = ['device', 'controls', 'capture'];
  const written = facts.device.controls?.capture;
  const layer = layerOf(layers, facts.document(path)) ?? layers.at(-1);
  if (written === undefined || layer === undefined) return { value: undefined, findings: [] };
  const found = findFile(project.files, layer.base, project.files.join(layer.path, '..'), written, facts.place(path));
  return found.value === undefined ? { value: undefined, findings: found.findings } : readCapture(found.value.source);
}
