// Laws of learn over frontends that a seed makes: any of the closed set of codecs, random names, values, controls and noise.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learn } from '../../src/learn/learn.ts';
import { figuresOf } from '../support/learn/figures.ts';
import { madeFrontend } from '../support/learn/made/made-frontend.ts';
import { ourLearner, seriesOf } from '../support/learn/our-learner.ts';
import { readCorpus } from '../support/learn/read-corpus.ts';
import { dialectText } from '../../src/learn/write/dialect-text.ts';
import { readDialect } from '../../src/1-load/read-document.ts';

// Each run makes a frontend and learns it twice, so a few stand for many.
const numRuns = Math.min(500, Math.ceil(Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) / 20));
const devices = readCorpus('tuning');
const seeds = fc.noShrink(fc.integer({ min: 1, max: 1_000_000 }));

describe('learn, of a frontend that was never seen', () => {
  it('calls nothing sure that the truth does not have, and takes no noise for a setting', { timeout: 600_000 }, () => {
    let [right, of] = [0, 0];
    fc.assert(
      fc.property(seeds, (seed) => {
        const { wrong, taken, sureRecall } = figuresOf(madeFrontend(seed, devices), ourLearner);
        right += sureRecall.right;
        of += sureRecall.of;
        expect(wrong.filter((one) => one.startsWith('sure'))).toEqual([]);
        expect(taken.filter((one) => one.startsWith('sure'))).toEqual([]);
      }),
      { numRuns },
    );
    // Names that say nothing, and few copies: not all can be told.
    expect(right / of).toBeGreaterThan(0.9);
  });

  it('writes a dialect that can be read, and says the same whatever the order of labels', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const entry = madeFrontend(seed, devices);
        const series = seriesOf({ ...entry, frontend: entry.name });
        const learnt = learn([series]);
        const taken = learnt.proposals.filter(({ grade }) => grade === 'sure');
        const controls = learnt.controls?.grade === 'sure';
        const text = dialectText({ name: 'learnt', roles: ['player'], taken, controls, learnt });
        expect(readDialect({ name: 'learnt.yaml', text }).findings).toEqual([]);
        const turned = learn([{ ...series, labels: [...series.labels].reverse() }]);
        const keys = (all: typeof learnt): readonly string[] =>
          all.proposals.flatMap((one) =>
            one.grade === 'sure' ? [`${one.setting.id} ${JSON.stringify([one.scope, one.keys])}`] : [],
          );
        expect(new Set(keys(turned))).toEqual(new Set(keys(learnt)));
      }),
      { numRuns },
    );
  });
});
