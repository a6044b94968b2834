import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { countDifferences } from '../../../src/model/comparison.ts';
import type { Comparison } from '../../../src/model/comparison.ts';
import { compareWithCard } from '../../../src/pipeline/compare-card.ts';
import type { ReadSide } from '../../../src/pipeline/compare-profiles.ts';
import { settings } from '../../../src/vocabulary/registry.ts';
import { cardFolder, writeCard } from '../../support/adopt/adopt-world.ts';
import { twoLayers } from '../../support/adopt/random-sections.ts';
import type { Layers } from '../../support/adopt/random-sections.ts';
import { sideIn } from '../../support/compare/compare-world.ts';
import { plain, sorted, upwards, valueOf } from '../../support/compare/plain.ts';
import { readFolder } from '../../support/world.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 200);
const demo = readFolder('profiles');
const tarn = parse(Buffer.from(demo['tarn.yaml'] ?? []).toString()) as Readonly<Record<string, unknown>>;
const facts = Object.fromEntries(
  Object.entries(tarn).filter(([key]) => ['catalog', 'device', 'frontends'].includes(key)),
);

/** Two profiles of one device of the demo. */
function worldOf([first, second]: readonly [Layers, Layers]): MemoryFiles {
  const files: Record<string, string | Uint8Array> = { '/w/package.json': '{}' };
  for (const [path, bytes] of Object.entries(demo))
    if (/^(dialects|catalogs|captures)\//.test(path)) files[`/w/profiles/${path}`] = bytes;
  for (const id of ['a', 'b']) {
    const { profile, only } = id === 'a' ? first : second;
    const house = id === 'a' ? first.house : over(over(first.house, first.profile), second.house);
    files[`/w/profiles/${id}.yaml`] = stringify({
      ...{ profile: id, format: 1, name: id.toUpperCase(), ...facts, extends: `house-${id}.yaml`, ...profile },
      ...(only.length === 0 ? {} : { only: only.map((block) => ({ for: block.for, ...block.sections })) }),
    });
    files[`/w/profiles/house-${id}.yaml`] = stringify({
      house: `house-${id}`,
      format: 1,
      ...(isMap(house) ? house : {}),
    });
  }
  return new MemoryFiles(files);
}

/** Both say the most of what A says; B has its own mind beside. */
function over(under: unknown, own: unknown): unknown {
  if (!isMap(under) || !isMap(own)) return own;
  const names = new Set([...Object.keys(under), ...Object.keys(own)]);
  return Object.fromEntries([...names].map((name) => [name, name in own ? over(under[name], own[name]) : under[name]]));
}

function isMap(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function against(side: ReadSide): Promise<Comparison> {
  return compareWithCard(side, {
    card: { whole: cardFolder, parts: new Map() },
    all: false,
    secretText: () => undefined,
  });
}

/** Files of the stock card for one system are read over what the profile says of all: that stays, and is told. */
function withoutHiding({ parts }: ReadSide, told: Comparison): Comparison {
  const settings = told.settings.filter(({ setting, scope }) =>
    parts.compiled.fidelity.some(
      (one) => one.setting === setting && JSON.stringify(sorted(one.scope)) === JSON.stringify(sorted(scope)),
    ),
  );
  return { ...told, settings };
}

const tally = { runs: 0, places: 0, differing: 0 };

/** What is told, applied to A, gives what B put onto the card: wherever both can be said there without loss. */
function becomes(a: ReadSide, b: ReadSide, told: Comparison): void {
  const [one, two] = [a.parts.resolved, b.parts.resolved];
  const names = new Map(one.instances.map(({ name }) => [name, name] as const));
  for (const { instance: name, setting, item, scope, fidelity, decision } of a.parts.compiled.fidelity) {
    const theirs = b.parts.compiled.fidelity.find(
      (other) =>
        other.instance === name &&
        other.setting === setting &&
        other.item === item &&
        JSON.stringify(sorted(other.scope)) === JSON.stringify(sorted(scope)),
    );
    if (fidelity.kind !== 'exact' || theirs?.fidelity.kind !== 'exact') continue;
    // A hold control that stands in every hotkey has no key of its own: with no hotkey, it is nowhere on the card.
    const isWritten = b.parts.compiled.edits.some((edit) => edit.instance === name && edit.setting === setting);
    if (setting === 'hotkeys.hold' && !isWritten) continue;
    const [holdA, holdB] = [one.holds.get(name), two.holds.get(name)];
    const own = plain(setting, decision.value, holdA, names);
    const entry = upwards(scope)
      .map((at) =>
        told.settings.find(
          (found) =>
            found.setting === setting &&
            found.item === item &&
            JSON.stringify(sorted(found.scope)) === JSON.stringify(sorted(at)) &&
            found.pairs.some((pair) => pair.a === name),
        ),
      )
      .find((found) => found !== undefined);
    const applied =
      entry !== undefined && plain(setting, valueOf(entry.a), holdA, names) === own
        ? plain(setting, valueOf(entry.b), holdB, names)
        : own;
    const wanted = plain(setting, theirs.decision.value, holdB, names);
    // A hotkey or control that is none may be spelled by taking the key out: then nothing stands there.
    if (theirs.decision.value.kind === 'none' && applied === 'left alone') continue;
    tally.places += 1;
    if (own !== wanted) tally.differing += 1;
    expect({ name, setting, item, scope, applied }).toEqual({ name, setting, item, scope, applied: wanted });
  }
}

// What is rewritten in play is never compared.
const steady = new Set(settings.filter(({ volatile }) => !volatile).map(({ id }) => id));
const given = twoLayers(steady, new Set(), ['harrow-hall', 'harrow', 'withy', 'sill']);

describe('diff against a card', () => {
  it('is empty after the profile was written there, and tells what another profile put there', async () => {
    await fc.assert(
      fc.asyncProperty(given, async (layers) => {
        const files = worldOf(layers);
        const usable = (name: string): ReadSide | undefined => {
          try {
            return sideIn(files, name);
          } catch {
            return undefined;
          }
        };
        const [a, b] = [usable('a'), usable('b')];
        fc.pre(a !== undefined && b !== undefined);
        tally.runs += 1;
        writeCard(files, 'a', true);
        const own = withoutHiding(a, await against(a));
        expect({ count: countDifferences(own), settings: own.settings, hands: own.hands }).toEqual({
          count: 0,
          settings: [],
          hands: [],
        });
        writeCard(files, 'b');
        becomes(a, b, await against(a));
      }),
      { numRuns: Math.ceil(runs / 16) },
    );
  });

  it('has tried something', () => {
    expect(tally.places).toBeGreaterThan(tally.runs * 2);
    expect(tally.differing).toBeGreaterThan(tally.runs / 2);
  });
});
