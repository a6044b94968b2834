// The figures of `learn` themselves: a learner that copies the truth gets all, one that is silent nothing.
import { describe, expect, it } from 'vitest';
import type { ScopePoint } from '../../../src/model/resolved.ts';
import { figuresOf, sumFigures } from '../../support/learn/figures.ts';
import type { Learner, Proposal } from '../../support/learn/learner.ts';
import { readCorpus } from '../../support/learn/read-corpus.ts';
import { truthOf } from '../../support/learn/truth-of.ts';

const entries = readCorpus('tuning');

/** Cheats: it reads the truth. */
function oracle(grade: Proposal['grade']): Learner {
  return ({ frontend }) => {
    const entry = entries.find(({ name }) => name === frontend);
    if (entry === undefined) throw new Error(`no ${frontend}`);
    const truth = truthOf(entry);
    const at = (setting: string, point: ScopePoint): readonly Proposal[] =>
      truth
        .keys(setting, point)
        .map((key) => ({ setting, grade, ...key, ...(point.system === undefined ? {} : { system: point.system }) }));
    return {
      proposals: truth.lens.settings().flatMap((setting) => truth.points.flatMap((point) => at(setting, point))),
      numbering: /numbering:\s*(?:\{?\s*order:\s*)?([a-z0-9-]+)/.exec(entry.truth)?.[1],
    };
  };
}

const run = (learner: Learner): ReturnType<typeof sumFigures> =>
  sumFigures(entries.map((entry) => figuresOf(entry, learner)));

describe('figures of learn', () => {
  it('are full for a learner that knows the truth', () => {
    const figures = run(oracle('sure'));
    for (const share of [figures.surePrecision, figures.sureRecall, figures.likelyPrecision, figures.likelyRecall]) {
      expect(share.of).toBeGreaterThan(100);
      expect(share.right).toBe(share.of);
    }
    expect(figures.numberingRight).toEqual({ right: entries.length, of: entries.length });
    expect(figures.taken).toEqual([]);
    expect(figures.missed).toEqual([]);
  });

  it('count nothing that is only possible', () => {
    const figures = run(oracle('possible'));
    expect(figures.surePrecision.of).toBe(0);
    expect(figures.sureRecall.right).toBe(0);
    expect(figures.likelyRecall.right).toBe(0);
  });

  it('tell a look-alike that was taken, and count it as wrong', () => {
    const figures = run(({ frontend }) => ({
      proposals: (entries.find(({ name }) => name === frontend)?.lookAlikes ?? []).map(({ file, key }) => ({
        setting: 'saves.state-on-exit',
        file,
        key,
        grade: 'sure',
      })),
      numbering: 'position',
    }));
    expect(figures.taken.length).toBe(entries.reduce((all, { lookAlikes }) => all + lookAlikes.length, 0));
    expect(figures.surePrecision).toEqual({ right: 0, of: figures.taken.length });
    expect(figures.numberingRight.right).toBe(0);
  });
});
