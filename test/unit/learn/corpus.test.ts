// Proves the corpus of `learn` sound: its truth against its copies and labels, by our own reader of dialects.
import { describe, expect, it } from 'vitest';
import type { ReadBack } from '../../../src/dialect/contract.ts';
import type { ScopePoint } from '../../../src/model/resolved.ts';
import type { Value } from '../../../src/model/value.ts';
import { sameValue } from '../../../src/model/value.ts';
import type { CorpusCopy, CorpusEntry, Label } from '../../support/learn/corpus-entry.ts';
import { corpusFolders, readCorpus } from '../../support/learn/read-corpus.ts';
import { truthOf } from '../../support/learn/truth-of.ts';
import { valueFromText } from '../../support/dialect/value-text.ts';

const corpus = [...readCorpus('tuning'), ...readCorpus('held-out')];
const idle = (entry: CorpusEntry): CorpusCopy => {
  const [first] = entry.copies;
  if (first === undefined) throw new Error(`${entry.name} has no copies`);
  return first;
};

const pointOf = ({ system }: { readonly system?: string }): ScopePoint => (system === undefined ? {} : { system });

/** Whether what is read is what the label says; where it leaves open whether held or toggled, either will do. */
function says(read: ReadBack, label: Label): boolean {
  if (read.kind !== 'value') return false;
  const wanted = valueFromText(label.set, label.to);
  if (read.value.kind !== 'press' || wanted.kind !== 'press') return sameValue(read.value, wanted);
  const manner = label.while ?? read.value.while;
  return read.value.while === manner && sameValue({ ...wanted, while: manner }, read.value);
}

const key = (setting: string, { system }: { readonly system?: string }): string => `${setting}@${system ?? ''}`;

it('names every folder of the corpus in corpus.yaml, in one of the parts', () => {
  expect(corpus.map(({ name }) => name).sort()).toEqual([...corpusFolders()].sort());
});

it('has fourteen to tune on and seven held out', () => {
  expect(readCorpus('tuning')).toHaveLength(14);
  expect(readCorpus('held-out')).toHaveLength(7);
});

describe.each(corpus.map((entry) => [entry.name, entry] as const))('%s', (_, entry) => {
  const truth = truthOf(entry);

  it('has a truth that check passes', () => {
    const wrong = truth.findings.filter(({ grade }) => grade === 'error' || grade === 'warning');
    expect(wrong.map(({ code, detail }) => `${code}: ${detail}`)).toEqual([]);
  });

  it('reads back in each copy what the labels say', () => {
    const wrong: string[] = [];
    for (const copy of entry.copies) {
      for (const label of [...(entry.labels.get(copy.name) ?? []), ...entry.stands]) {
        const read = truth.read(copy, label.set, pointOf(label));
        if (!says(read, label))
          wrong.push(`${copy.name} ${key(label.set, label)} ${label.to}: ${JSON.stringify(read)}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('labels every change of a setting, and nothing else', () => {
    const wrong: string[] = [];
    let before: ReadonlyMap<string, string> | undefined;
    for (const copy of entry.copies) {
      const now = new Map(
        truth.lens
          .settings()
          .flatMap((setting) =>
            truth.points
              .filter((point) =>
                truth.lens.scopes(setting).includes(point.system === undefined ? 'instance' : 'system'),
              )
              .map((point) => [key(setting, point), JSON.stringify(truth.read(copy, setting, point))] as const),
          ),
      );
      const changed = [...now].flatMap(([at, value]) => (before === undefined || before.get(at) === value ? [] : [at]));
      const labelled = (entry.labels.get(copy.name) ?? []).map((label) => key(label.set, label));
      for (const at of changed) if (!labelled.includes(at)) wrong.push(`${copy.name}: ${at} changed without a label`);
      for (const at of labelled) if (!changed.includes(at)) wrong.push(`${copy.name}: ${at} is labelled and stands`);
      before = now;
    }
    expect(wrong).toEqual([]);
    expect([...entry.labels.keys()]).toEqual(entry.copies.map(({ name }) => name));
  });

  it('says every setting of its truth in the first copy, or leaves it out on purpose', () => {
    const labelled = new Set([...entry.labels.values()].flat().map(({ set }) => set));
    const wrong = truth.lens.settings().filter((setting) => {
      const reads = truth.points.map((point) => truth.read(idle(entry), setting, point));
      const held = reads.some(({ kind }) => kind === 'value' || kind === 'unreadable');
      return !held && !labelled.has(setting);
    });
    expect(wrong).toEqual([]);
  });

  it('has no value that the truth cannot read, accounts and passwords apart', () => {
    const wrong = entry.copies.flatMap((copy) =>
      truth.lens
        .settings()
        .filter((setting) => !/\.(account|password)$/.test(setting))
        .flatMap((setting) =>
          truth.points.flatMap((point) => {
            const read = truth.read(copy, setting, point);
            return read.kind === 'unreadable' || read.kind === 'half-changed'
              ? [`${copy.name} ${key(setting, point)}: ${JSON.stringify(read)}`]
              : [];
          }),
        ),
    );
    expect(wrong).toEqual([]);
  });

  it('has every key of noise and look-alikes in some copy, changing where it is noise, and none that is a setting', () => {
    const settingKeys = new Set(
      truth.lens
        .settings()
        .flatMap((setting) => truth.points.flatMap((point) => truth.keys(setting, point)))
        .map((at) => JSON.stringify([at.file, at.key])),
    );
    const wrong: string[] = [];
    for (const { file, key: name } of [...entry.noise, ...entry.lookAlikes]) {
      const values = entry.copies.map((copy) => JSON.stringify(truth.trees(copy).get(file)?.get(name)));
      if (values.every((value) => value === undefined)) wrong.push(`${file} ${name} is in no copy`);
      const isNoise = entry.noise.some((one) => one.file === file && one.key === name);
      if (isNoise && new Set(values).size < 2) wrong.push(`${file} ${name} never changes, so it is no noise`);
      if (!isNoise && new Set(values).size > 1) wrong.push(`${file} ${name} changes, so it is noise`);
      if (settingKeys.has(JSON.stringify([file, name]))) wrong.push(`${file} ${name} is a key of a setting`);
    }
    expect(wrong).toEqual([]);
  });

  it('lists nothing but settings of the truth, by their keys, among what names can tell', () => {
    const wrong: string[] = [];
    for (const { setting, system, file, keys } of entry.canTell) {
      const known = truth.keys(setting, pointOf(system === undefined ? {} : { system }));
      for (const name of keys) {
        if (!known.some((at) => at.file === file && at.key === name)) wrong.push(`${setting}: ${file} ${name}`);
        if (truth.trees(idle(entry)).get(file)?.get(name) === undefined) wrong.push(`${file} ${name} is not in 0-idle`);
      }
    }
    expect(wrong).toEqual([]);
    expect(entry.canTell.length).toBeGreaterThan(0);
  });

  it('never changes hold or the way into the menu', () => {
    const labelled = new Set([...entry.labels.values()].flat().map(({ set }) => set));
    for (const { set } of entry.stands) expect(labelled.has(set)).toBe(false);
  });
});

describe('labels', () => {
  it('are read as values of their settings', () => {
    const values: readonly Value[] = corpus.flatMap((entry) =>
      [...entry.labels.values()].flat().map(({ set, to }) => valueFromText(set, to)),
    );
    expect(values.length).toBeGreaterThan(1000);
  });
});
