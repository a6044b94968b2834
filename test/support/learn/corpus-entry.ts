/** Part of the corpus: `tuning` may be looked at while the learner is made, `held-out` only ever gives the figure. */
export type CorpusPart = 'tuning' | 'held-out';

/** One setting changed by hand before a copy was taken. */
export interface Label {
  readonly set: string;
  /** As in `valueFromText`; a hotkey pressed with hold is its control alone. */
  readonly to: string;
  /** Present where it was changed for one game system only. */
  readonly system?: string;
  /** Of hotkeys that are held or toggled: which was chosen, where the frontend asks. */
  readonly while?: 'held' | 'toggled';
}

/** A file by its path in a copy, and a key in the path language of its syntax. */
export interface KeyOfFile {
  readonly file: string;
  readonly key: string;
}

/** What a practitioner can tell from one copy by names and values alone. */
export interface TellableSetting {
  readonly setting: string;
  readonly system?: string;
  readonly file: string;
  readonly keys: readonly string[];
}

/** One copy of a frontend's folder: bytes by path from its root. */
export interface CorpusCopy {
  readonly name: string;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** One invented frontend: its copies, and the truth that a learner is held against. */
export interface CorpusEntry {
  readonly name: string;
  readonly part: CorpusPart;
  /** In the order taken: `0-idle`, `1-idle`, then one after each batch of changes. */
  readonly copies: readonly CorpusCopy[];
  /** By copy: what was changed since the copy before. */
  readonly labels: ReadonlyMap<string, readonly Label[]>;
  /** Known of every copy, since it is never changed: hold and open-menu. */
  readonly stands: readonly Label[];
  readonly noise: readonly KeyOfFile[];
  readonly lookAlikes: readonly KeyOfFile[];
  readonly canTell: readonly TellableSetting[];
  /** Text of the dialect that is the truth; never shown to a learner. */
  readonly truth: string;
  readonly profile: string;
  readonly capture: string;
}
