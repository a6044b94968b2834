// A learnt dialect builds: `learn` writes what is sure of each frontend of the corpus, `build` makes the demo's house for it, and an
// oracle that knows the truth (learnt-dialects/oracle.py, which shares nothing with src) reads every value back. On the device that
// the copies come from and on another one, from nothing and over files that stand there. Of the part held out only sums are told.
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { anyHouse } from '../support/learn/any-house.ts';
import { askTruth, oracleMissing } from '../support/learn/ask-truth.ts';
import type { TruthSays } from '../support/learn/ask-truth.ts';
import { buildLearnt, learntDialect, onOwnDevice, onTarn } from '../support/learn/build-learnt.ts';
import type { LearntBuild, LearntWorld } from '../support/learn/build-learnt.ts';
import type { CorpusEntry } from '../support/learn/corpus-entry.ts';
import { readCorpus } from '../support/learn/read-corpus.ts';

const demoHouse = readFileSync('profiles/house.yaml', 'utf8');

type Files = ReadonlyMap<string, Uint8Array>;
const nothing: Files = new Map();

/** What the last copy left standing; one that puts everything back would leave too little to do. */
function standing({ copies }: CorpusEntry): Files {
  return copies.filter(({ name }) => !name.endsWith('-put-back')).at(-1)?.files ?? nothing;
}

interface Where {
  readonly says: string;
  readonly on: (entry: CorpusEntry) => LearntWorld;
  readonly before: (entry: CorpusEntry) => Files;
}
const places: readonly [Where, Where, Where, Where] = [
  { says: 'on its device, from nothing', on: onOwnDevice, before: () => nothing },
  { says: 'on its device, over its files', on: onOwnDevice, before: standing },
  { says: 'on Tarn, from nothing', on: onTarn, before: () => nothing },
  { says: 'on Tarn, over its files', on: onTarn, before: standing },
];

interface Outcome {
  readonly says: string;
  readonly built: LearntBuild;
  readonly said: TruthSays;
}

/** Builds at each place, and what the truth says of it. */
function outcomes(entry: CorpusEntry, dialect: string, house: string, wheres: readonly Where[]): readonly Outcome[] {
  const asked = wheres.map(({ says, on, before }) => {
    const world = on(entry);
    const stands = before(entry);
    const built = buildLearnt(entry, dialect, world, house, stands);
    const after = new Map([...stands].map(([path, bytes]) => [path, Buffer.from(bytes).toString()]));
    for (const [path, text] of built.files) after.set(path, text);
    return { says, built, entry, world, house, before: stands, after };
  });
  return askTruth(asked).flatMap((said, at) => {
    const one = asked[at];
    return one === undefined ? [] : [{ says: one.says, built: one.built, said }];
  });
}

/** What is not as the house says though the dialect has the setting, and what nobody asked for. */
function faults(found: readonly Outcome[], dialect: string): readonly string[] {
  const { settings } = parse(dialect) as { readonly settings: object };
  const learnt = new Set(Object.keys(settings));
  return found.flatMap(({ says, built, said }) => [
    ...built.findings
      .filter(({ grade }) => grade === 'error')
      .map(({ code, detail }) => `${says}: error ${code}: ${detail}`),
    ...said.settings
      .filter(
        ({ setting, verdict }) =>
          verdict === 'wrong' || (verdict === 'untouched' && learnt.has(setting) && !built.cleared.includes(setting)),
      )
      .map(
        ({ setting, system, verdict, says: texts }) =>
          `${says}: ${verdict} ${setting} ${system ?? ''} ${JSON.stringify(texts)}`,
      ),
    ...said.others.map((key) => `${says}: nobody asked for ${key}`),
  ]);
}

/**
 * Known to be wrong still. The text that stands for no control is not told there: digits may be a control that the copies do
 * not show, and a chord's word is not told from a control's. So 'none' takes the key out instead of writing that text.
 */
const unlearntNone: ReadonlySet<string> = new Set(['tallow', 'skep', 'trivet']);

/**
 * Known to be wrong still: words of the frontend's own for whole chords, from which the hold control is not told apart. With
 * another hold control the words of the old one are written.
 */
const chordsOfWords: ReadonlySet<string> = new Set(['trivet']);

const entries = readCorpus('tuning').map((entry) => [entry.name, entry] as const);
const learnt = new Map<string, string>();
function dialectOf(entry: CorpusEntry): string {
  let dialect = learnt.get(entry.name);
  if (dialect === undefined) learnt.set(entry.name, (dialect = learntDialect(entry)));
  return dialect;
}
const truthDialect = ({ truth }: CorpusEntry): string => truth.replace(/^version: .*$/m, 'version: 0.1.0');

describe.skipIf(oracleMissing)('the oracle', () => {
  it.each(entries)('finds the house in what the truth itself makes of %s', (_, entry) => {
    const dialect = truthDialect(entry);
    expect(faults(outcomes(entry, dialect, demoHouse, [places[0], places[3]]), dialect)).toEqual([]);
  });

  it.each(entries)(
    'finds out two lines of a dialect of %s that are exchanged, and a sense that is turned',
    (_, entry) => {
      const dialect = truthDialect(entry);
      const line = (id: string): string =>
        new RegExp(`^  ${id.replaceAll('.', '\\.')}: (.*)$`, 'm').exec(dialect)?.[1] ?? '';
      const [exit, save, keep] = [
        line('hotkeys.bind.exit-game'),
        line('hotkeys.bind.save-state'),
        line('saves.state-on-exit'),
      ];
      const [yes, no] = [/true: ("?\w+"?)/.exec(keep)?.[1] ?? '', /false: ("?\w+"?)/.exec(keep)?.[1] ?? ''];
      const exchanged = dialect
        .split(exit)
        .map((part) => part.replace(save, () => exit))
        .join(save);
      const turned = dialect.replace(keep, () =>
        keep.replace(/\{ true: .* \}/, () => `{ true: ${no}, false: ${yes} } }`),
      );
      const wrong = (changed: string): readonly string[] =>
        outcomes(entry, changed, demoHouse, places.slice(0, 1)).flatMap(({ said }) =>
          said.settings.filter(({ verdict }) => verdict === 'wrong').map(({ setting }) => setting),
        );
      expect(wrong(exchanged)).toEqual(['hotkeys.bind.exit-game', 'hotkeys.bind.save-state']);
      expect(wrong(turned)).toEqual(['saves.state-on-exit']);
    },
  );
});

describe.skipIf(oracleMissing)('a dialect that was learnt', () => {
  it.each(entries)('builds the demo house for %s', (name, entry) => {
    const dialect = dialectOf(entry);
    const wrong = faults(outcomes(entry, dialect, demoHouse, places), dialect);
    expect(wrong.filter((fault) => !unlearntNone.has(name) || !fault.includes(' hotkeys.bind.reset-game '))).toEqual(
      [],
    );
    expect(wrong.length > 0).toBe(unlearntNone.has(name));
  });

  it.each(entries)('builds any house of labelled values for %s', (name, entry) => {
    const dialect = dialectOf(entry);
    const holds = chordsOfWords.has(name) ? (['mode'] as const) : (['mode', 'select'] as const);
    fc.assert(
      fc.property(anyHouse(entry, holds), fc.constantFrom(...places), (house, where) => {
        expect(faults(outcomes(entry, dialect, house, [where]), dialect)).toEqual([]);
      }),
      { numRuns: Number(process.env['THUMBWRIGHT_RUNS'] ?? 2) },
    );
  });
});

describe.skipIf(oracleMissing)('dialects that were learnt of what is held out', () => {
  it('build the demo house', () => {
    const count = { right: 0, untouched: 0, wrong: 0, others: 0, errors: 0 };
    for (const entry of readCorpus('held-out'))
      for (const { built, said } of outcomes(entry, learntDialect(entry), demoHouse, places.slice(0, 1))) {
        for (const { verdict } of said.settings) count[verdict]++;
        count.others += said.others.length;
        count.errors += built.findings.filter(({ grade }) => grade === 'error').length;
      }
    console.log(`held out, the demo house from nothing: ${JSON.stringify(count)}`);
    expect(count).toMatchObject({ others: 0, errors: 0 });
    expect(count.right).toBeGreaterThan(90);
  });
});
