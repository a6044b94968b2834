import type { ScopePoint } from '../../../src/model/resolved.ts';
import type { CorpusEntry } from './corpus-entry.ts';
import type { Learner, Learnt, Proposal } from './learner.ts';
import { truthOf } from './truth-of.ts';

/** Of so many, so many were right. */
export interface Share {
  readonly right: number;
  readonly of: number;
}

/** What the issue asks of `learn`, of one frontend or of several. A key is counted, not a setting. */
export interface Figures {
  /** From labelled copies: of the keys called sure, those that the truth has. */
  readonly surePrecision: Share;
  /** Of the keys of labelled settings that changed with a label, those called sure. */
  readonly sureRecall: Share;
  /** From 0-idle alone: of the keys called likely or sure, those that the truth has. */
  readonly likelyPrecision: Share;
  /** Of the keys that names can tell, those called likely or sure. */
  readonly likelyRecall: Share;
  /** Of the numberings that were decided, those of the truth. */
  readonly numberingRight: Share;
  /** Numberings that were left open. */
  readonly numberingOpen: number;
  /** Noise and look-alikes called sure or likely, in either way; each with its setting. */
  readonly taken: readonly string[];
  /** Wrong ones and missed ones, to be shown of the tuning part alone. */
  readonly wrong: readonly string[];
  readonly missed: readonly string[];
}

const pointOf = (system: string | undefined): ScopePoint => (system === undefined ? {} : { system });

function idOf(one: Pick<Proposal, 'setting' | 'system' | 'file' | 'key'>): string {
  return [one.setting, one.system === undefined ? '' : ` of ${one.system}`, ` ${one.file} ${one.key}`].join('');
}

/** Lets a learner at one frontend, once with everything and once with a single copy, and holds it against the truth. */
export function figuresOf(entry: CorpusEntry, learner: Learner): Figures {
  const truth = truthOf(entry);
  const given = { frontend: entry.name, profile: entry.profile, capture: entry.capture };
  const labelled = learner({ ...given, copies: entry.copies, labels: entry.labels, stands: entry.stands });
  const single = learner({ ...given, copies: entry.copies.slice(0, 1), labels: new Map(), stands: [] });
  const isTrue = (one: Proposal): boolean =>
    truth.keys(one.setting, pointOf(one.system)).some((at) => at.file === one.file && at.key === one.key);

  const changed = changedKeys(entry);
  const sure = labelled.proposals.filter(({ grade }) => grade === 'sure');
  const likely = single.proposals.filter(({ grade }) => grade !== 'possible');
  const tellable = entry.canTell.flatMap(({ setting, system, file, keys }) =>
    keys.map((key) => idOf({ setting, file, key, ...(system === undefined ? {} : { system }) })),
  );
  const barred = new Set([...entry.noise, ...entry.lookAlikes].map(({ file, key }) => JSON.stringify([file, key])));
  const isBarred = (one: Proposal): boolean => barred.has(JSON.stringify([one.file, one.key]));
  const told = [...labelled.proposals.filter(({ grade }) => grade !== 'possible'), ...likely];
  const wanted = numberingOf(entry);
  return {
    surePrecision: { right: sure.filter(isTrue).length, of: sure.length },
    sureRecall: found(changed, sure),
    likelyPrecision: { right: likely.filter(isTrue).length, of: likely.length },
    likelyRecall: found(tellable, likely),
    ...numberingFigures(labelled, wanted),
    taken: [...new Set(told.filter(isBarred).map(idOf))],
    wrong: [...sure, ...likely].filter((one) => !isTrue(one)).map((one) => `${one.grade}: ${idOf(one)}`),
    missed: [
      ...missing(changed, sure).map((id) => `labelled: ${id}`),
      ...missing(tellable, likely).map((id) => `one copy: ${id}`),
    ],
  };

  /** Keys of labelled settings whose text differs in some labelled copy from the copy before. */
  function changedKeys({ copies, labels }: CorpusEntry): readonly string[] {
    const keys = new Set<string>();
    for (const [at, copy] of copies.entries()) {
      const before = copies[at - 1];
      if (before === undefined) continue;
      for (const { set: setting, system } of labels.get(copy.name) ?? []) {
        for (const { file, key } of truth.keys(setting, pointOf(system))) {
          const text = (one: typeof copy): string => JSON.stringify(truth.trees(one).get(file)?.get(key)) ?? '';
          if (text(copy) !== text(before))
            keys.add(idOf({ setting, file, key, ...(system === undefined ? {} : { system }) }));
        }
      }
    }
    return [...keys];
  }
}

function found(wanted: readonly string[], proposals: readonly Proposal[]): Share {
  return { right: wanted.length - missing(wanted, proposals).length, of: wanted.length };
}

function missing(wanted: readonly string[], proposals: readonly Proposal[]): readonly string[] {
  const said = new Set(proposals.map(idOf));
  return wanted.filter((id) => !said.has(id));
}

function numberingOf({ truth }: CorpusEntry): string | undefined {
  return /numbering:\s*(?:\{?\s*order:\s*)?([a-z0-9-]+)/.exec(truth)?.[1];
}

function numberingFigures(
  { numbering }: Learnt,
  wanted: string | undefined,
): Pick<Figures, 'numberingRight' | 'numberingOpen'> {
  if (numbering === undefined) return { numberingRight: { right: 0, of: 0 }, numberingOpen: 1 };
  return { numberingRight: { right: numbering === wanted ? 1 : 0, of: 1 }, numberingOpen: 0 };
}

const sum = (shares: readonly Share[]): Share => ({
  right: shares.reduce((all, { right }) => all + right, 0),
  of: shares.reduce((all, { of }) => all + of, 0),
});

/** The figures of several frontends together: every key counts once. */
export function sumFigures(all: readonly Figures[]): Figures {
  return {
    surePrecision: sum(all.map((one) => one.surePrecision)),
    sureRecall: sum(all.map((one) => one.sureRecall)),
    likelyPrecision: sum(all.map((one) => one.likelyPrecision)),
    likelyRecall: sum(all.map((one) => one.likelyRecall)),
    numberingRight: sum(all.map((one) => one.numberingRight)),
    numberingOpen: all.reduce((open, one) => open + one.numberingOpen, 0),
    taken: all.flatMap((one) => one.taken),
    wrong: all.flatMap((one) => one.wrong),
    missed: all.flatMap((one) => one.missed),
  };
}
