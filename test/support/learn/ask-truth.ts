import { spawnSync } from 'node:child_process';
import { parse } from 'yaml';
import { isMissing } from '../tool.ts';
import type { LearntWorld } from './build-learnt.ts';
import type { CorpusEntry } from './corpus-entry.ts';

const script = 'test/conformance/learnt-dialects/oracle.py';

/** What the truth says of files that a learnt dialect made: the shape is told in the script. */
export interface TruthSays {
  readonly settings: readonly {
    readonly setting: string;
    readonly system: string | null;
    readonly verdict: 'right' | 'wrong' | 'untouched';
    readonly says: Readonly<Record<string, string | readonly string[] | null>>;
  }[];
  readonly others: readonly string[];
}

// Debian's own interpreter has Debian's python3-yaml; another one may come first on the path.
const python = ['/usr/bin/python3', 'python3'].find(
  (one) => spawnSync(one, ['-c', 'import tomllib, yaml'], { stdio: 'ignore' }).status === 0,
);

/** For `describe.skipIf`: an error in continuous integration, so that the oracle is not lost unseen. */
export const oracleMissing = isMissing(python !== undefined, 'PyYAML for python3', 'python3-yaml');

function packed(files: ReadonlyMap<string, string | Uint8Array>): Readonly<Record<string, string>> {
  return Object.fromEntries([...files].map(([path, content]) => [path, Buffer.from(content).toString('base64')]));
}

/** One build that the oracle is to look at. */
export interface AskedBuild {
  readonly entry: CorpusEntry;
  readonly world: LearntWorld;
  readonly house: string;
  readonly before: ReadonlyMap<string, Uint8Array>;
  readonly after: ReadonlyMap<string, string>;
}

/** Asks the oracle, which knows the truth and nothing else of ours. Its start takes long: all in one. */
export function askTruth(asked: readonly AskedBuild[]): readonly TruthSays[] {
  const requests = asked.map(({ entry, world, house, before, after }) => ({
    truth: parse(entry.truth) as unknown,
    house: parse(house) as unknown,
    device: world.device,
    mounts: world.mounts,
    own: packed(entry.copies[0]?.files ?? new Map<string, Uint8Array>()),
    before: packed(before),
    after: packed(after),
  }));
  const run = spawnSync(python ?? 'python3', [script], {
    input: JSON.stringify(requests),
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as readonly TruthSays[];
}
