import type { CorpusCopy, Label } from './corpus-entry.ts';

/** One line of a dialect that was learnt: this setting is said by this key. */
export interface Proposal {
  readonly setting: string;
  /** Present where it is said for one game system only. */
  readonly system?: string;
  /** As in the copy. */
  readonly file: string;
  /** In the path language of the file's syntax. A setting that is said by several keys has one proposal for each. */
  readonly key: string;
  readonly grade: 'sure' | 'likely' | 'possible';
}

export interface Learnt {
  readonly proposals: readonly Proposal[];
  /** The one numbering that is left (`sdl`, `code`, …); undefined where the evidence leaves several. */
  readonly numbering: string | undefined;
}

/** What a learner is given: never the truth. With one copy there are no labels. */
export interface LearnerInput {
  readonly frontend: string;
  readonly copies: readonly CorpusCopy[];
  /** By copy: what was changed since the copy before. */
  readonly labels: ReadonlyMap<string, readonly Label[]>;
  readonly stands: readonly Label[];
  readonly profile: string;
  readonly capture: string;
}

export type Learner = (input: LearnerInput) => Learnt;
