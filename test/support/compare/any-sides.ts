import fc from 'fast-check';
import { parse, stringify } from 'yaml';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { prepareSide } from '../../../src/pipeline/compare-profiles.ts';
import type { ReadSide } from '../../../src/pipeline/compare-profiles.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { twoLayers } from '../adopt/random-sections.ts';
import type { Layers } from '../adopt/random-sections.ts';
import { readFolder } from '../world.ts';
import { sideIn } from './compare-world.ts';

const demo = readFolder('profiles');
const shared = Object.fromEntries(
  Object.entries(demo)
    .filter(([path]) => /^(dialects|catalogs|captures)\//.test(path))
    .map(([path, bytes]) => [`/w/profiles/${path}`, bytes]),
);
const factsOf = (name: string): Readonly<Record<string, unknown>> =>
  parse(Buffer.from(demo[`${name}.yaml`] ?? []).toString()) as Readonly<Record<string, unknown>>;

const kept = ['extends', 'catalog', 'device', 'frontends'];

/**
 * Two profiles of one device of the demo, or of two. `only` may name frontends that one of them lacks. Each has a house of
 * its own; or both share the first one's.
 */
export function worldOf(
  devices: readonly [string, string],
  given: readonly [Layers, Layers],
  house: 'own' | 'shared' = 'own',
): MemoryFiles {
  const files: Record<string, string | Uint8Array> = { '/w/package.json': '{}', ...shared };
  for (const [at, id] of ['a', 'b'].entries()) {
    const layers = given[at];
    const facts = Object.entries(factsOf(devices[at] ?? '')).filter(([key]) => kept.includes(key));
    const profile = {
      profile: id,
      format: 1,
      name: id.toUpperCase(),
      ...Object.fromEntries(facts),
      extends: house === 'shared' ? 'house-a.yaml' : `house-${id}.yaml`,
      ...layers?.profile,
      ...(layers === undefined || layers.only.length === 0
        ? {}
        : { only: layers.only.map((block) => ({ for: block.for, ...block.sections })) }),
    };
    files[`/w/profiles/${id}.yaml`] = stringify(profile);
    files[`/w/profiles/house-${id}.yaml`] = stringify({ house: `house-${id}`, format: 1, ...layers?.house });
  }
  return new MemoryFiles(files);
}

/** Undefined where a profile cannot be compared. */
export function readSides(files: MemoryFiles): readonly [ReadSide, ReadSide] | undefined {
  const sides = ['a', 'b'].map((name) => sideIn(files, name));
  const [a, b] = sides;
  if (a === undefined || b === undefined) return undefined;
  return sides.every(({ named }) => prepareSide(named).value !== undefined) ? [a, b] : undefined;
}

const systemSettings = new Set(
  Buffer.from(demo['dialects/harrow.yaml'] ?? [])
    .toString()
    .split('\n')
    .filter((line) => /\{ instance: main, system: by-system/.test(line))
    .map((line) => /^ {2}([a-z.-]+): /.exec(line)?.[1] ?? ''),
);
/** What each of the two profiles, and its house, says. */
export const anyLayers = twoLayers(new Set(settings.map(({ id }) => id)), systemSettings, [
  'harrow-hall',
  'harrow',
  'withy',
  'sill',
]);
export const devicePairs = fc.constantFrom<[string, string]>(
  ['tarn', 'tarn'],
  ['tarn', 'fen'],
  ['fen', 'tarn'],
  ['tarn', 'mere'],
);
