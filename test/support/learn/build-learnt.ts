import { readFileSync } from 'node:fs';
import { parse, parseDocument, stringify } from 'yaml';
import type { Finding } from '../../../src/diagnostics/finding.ts';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { learn } from '../../../src/learn/learn.ts';
import { dialectText } from '../../../src/learn/write/dialect-text.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import type { ProfileRun } from '../../../src/pipeline.ts';
import type { CorpusEntry } from './corpus-entry.ts';
import { seriesOf } from './our-learner.ts';

interface ProfileFile {
  readonly device: {
    readonly controls: Readonly<Record<string, unknown>>;
    readonly os?: unknown;
    readonly parts: Readonly<Record<string, { readonly 'mounted-at': string }>>;
  };
  readonly frontends: Readonly<Record<string, { readonly version: string | number; readonly root: string }>>;
}

/** What a device tells of its controls: a capture, or all codes of its pad and its keys. */
export interface DeviceTold {
  readonly id: string;
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly capture?: string;
  readonly codes?: readonly string[];
}

/** The frontend of an entry on a device, with a house over it: a profile as a person would write it. */
export interface LearntWorld {
  readonly profile: string;
  readonly device: DeviceTold;
  readonly capture: string | undefined;
  /** Where parts are mounted on the device. */
  readonly mounts: Readonly<Record<string, string>>;
  /** The frontend's folder on the card. */
  readonly root: string;
  readonly version: string;
}

function labelsOf(controls: Readonly<Record<string, unknown>>): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(controls).flatMap(([position, facts]) =>
      typeof facts === 'object' && facts !== null && 'label' in facts && typeof facts.label === 'string'
        ? [[position, facts.label] as const]
        : [],
    ),
  );
}

function worldOn(
  entry: CorpusEntry,
  id: string,
  name: string,
  device: ProfileFile['device'],
  told: Partial<DeviceTold>,
) {
  const { frontends } = parse(entry.profile) as ProfileFile;
  const instance = frontends[entry.name];
  if (instance === undefined) throw new Error(`${entry.name} stands in no profile`);
  const version = String(instance.version);
  const profile = {
    profile: id,
    format: 1,
    name,
    extends: 'house.yaml',
    catalog: 'shelf@1',
    device,
    frontends: { [entry.name]: { dialect: `${entry.name}@0`, version, root: instance.root } },
  };
  return {
    profile: stringify(profile),
    device: { id, name, labels: labelsOf(device.controls), ...told },
    capture: told.capture,
    mounts: Object.fromEntries(Object.entries(device.parts).map(([part, facts]) => [part, facts['mounted-at']])),
    root: instance.root,
    version,
  };
}

/** On the device that the copies come from. */
export function onOwnDevice(entry: CorpusEntry): LearntWorld {
  const { profile, name, device } = parse(entry.profile) as ProfileFile & { profile: string; name: string };
  return worldOn(entry, profile, name, device, { capture: entry.capture });
}

/** On Tarn of the demo, whose controls have other numbers and other labels. */
export function onTarn(entry: CorpusEntry): LearntWorld {
  const { device } = parse(readFileSync('profiles/tarn.yaml', 'utf8')) as ProfileFile;
  const { os, ...rest } = device;
  if (os === undefined) throw new Error('Tarn has no operating system');
  const { pad, keys } = device.controls['codes'] as Readonly<Record<'pad' | 'keys', readonly string[]>>;
  return worldOn(entry, 'tarn', 'Tarn', rest, { codes: [...pad, ...keys] });
}

/** The dialect that `learn` writes of all copies of an entry when nobody is there to say yes: what is sure, no more. */
export function learntDialect(entry: CorpusEntry): string {
  const learnt = learn([seriesOf({ ...entry, frontend: entry.name })]);
  return dialectText({
    name: entry.name,
    roles: ['player'],
    learnt,
    taken: learnt.proposals.filter(({ grade }) => grade === 'sure'),
    controls: learnt.controls?.grade === 'sure',
  });
}

export interface LearntBuild {
  /** Texts by path from the frontend's root. */
  readonly files: ReadonlyMap<string, string>;
  /** What the profile takes back of the house, since no frontend of the device can say it. */
  readonly cleared: readonly string[];
  readonly findings: readonly Finding[];
}

/** The profile with settings of its house taken back: `null`, as the finding's way out says. */
function without(profile: string, settings: readonly string[]): string {
  const document = parseDocument(profile);
  for (const setting of settings) document.setIn(setting.split('.'), null);
  return document.toString();
}

/**
 * Builds a house with a dialect, the profile adapted to it as a person would who reads the findings.
 * `stands`: the files of the frontend that are there already, by path from its root.
 */
export function buildLearnt(
  entry: CorpusEntry,
  dialect: string,
  world: LearntWorld,
  house: string,
  stands: ReadonlyMap<string, Uint8Array>,
): LearntBuild {
  const stock = `/w/profiles/dialects/${entry.name}/stock/${world.version}`;
  const run = (cleared: readonly string[]): ProfileRun => {
    const files = new MemoryFiles({
      '/w/package.json': '{}',
      '/w/profiles/device.yaml': without(world.profile, cleared),
      '/w/profiles/house.yaml': house,
      '/w/profiles/catalogs/shelf.yaml': readFileSync('profiles/catalogs/shelf.yaml'),
      [`/w/profiles/dialects/${entry.name}.yaml`]: dialect,
      ...(world.capture === undefined ? {} : { '/w/profiles/capture.txt': world.capture }),
      ...Object.fromEntries([...stands].map(([path, bytes]) => [`${stock}/${path}`, bytes])),
    });
    const project = openProject(files, hostPath('/w')).value;
    if (project === undefined) throw new Error('no workspace');
    return runProfile(project, hostPath('/w/profiles/device.yaml'), { card: undefined, newest: false });
  };
  const cleared = run([]).findings.flatMap(({ code, setting }) =>
    code === 'nowhere-expressible' && setting !== undefined ? [setting] : [],
  );
  const { built, findings } = run(cleared);
  return {
    files: new Map((built?.files ?? []).map(({ path, text }) => [path.slice(world.root.length + 1), text])),
    cleared,
    findings,
  };
}
