import type { Finding } from '../diagnostics/finding.ts';
import type { DeviceControls, Part } from '../model/device.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { Style, SyntaxName, SyntaxValue } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';
import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { ControlsWritten, EntryWritten } from '../vocabulary/shapes/dialect.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';

/** A file that is not read, and why: a clause ('a picture'). */
export interface LeftAlone {
  readonly path: string;
  readonly why: string;
}

/** One copy of a frontend's folder: its texts, by path from the folder, `/` between names. */
export interface Copy {
  readonly name: string;
  readonly texts: ReadonlyMap<string, SourceText>;
  readonly leftAlone: readonly LeftAlone[];
}

/** What somebody says of one setting at the time of a copy. */
export interface Label {
  /** Index of the copy. */
  readonly copy: number;
  readonly setting: SettingDefinition;
  readonly value: Value;
  /** Empty, or the one system or core for which it was set. */
  readonly scope: ScopePoint;
  /** `changed` before this copy; or so it `stands` in every copy. */
  readonly told: 'changed' | 'stands';
  /** Of hotkeys that are held or toggled: which was chosen, where the frontend asks. */
  readonly manner?: 'held' | 'toggled';
}

/** Copies of one instance on one device, in the order taken, with what is known of it. Evidence of several adds up. */
export interface Series {
  readonly name: string;
  readonly device: { readonly id: string; readonly name: string };
  readonly copies: readonly Copy[];
  readonly labels: readonly Label[];
  readonly parts: ReadonlyMap<string, Part>;
  /** Absent: nothing is known of the device's controls. */
  readonly controls?: DeviceControls;
  readonly catalog?: CatalogWritten;
}

/** How a file is written, as told from all copies of it. */
export interface FileFormat {
  readonly path: string;
  readonly syntax: Exclude<SyntaxName, 'template'>;
  readonly style: Style;
}

/** One moment: one copy of one series. Observations of all series stand in one row. */
export interface Observation {
  readonly series: Series;
  readonly copy: number;
}

/** One key through all observations; undefined where it is not there. */
export interface KeyRow {
  readonly file: string;
  readonly key: string;
  readonly held: readonly (SyntaxValue | undefined)[];
}

/** One setting at one scope through all observations, as far as the labels tell. */
export interface SettingRow {
  readonly setting: SettingDefinition;
  readonly scope: ScopePoint;
  readonly known: readonly (Value | undefined)[];
  /** Observations before which it was changed. */
  readonly changed: ReadonlySet<number>;
  readonly manner: 'held' | 'toggled' | undefined;
}

/** sure: explained by a labelled change, no rival left; likely: shown for a yes or no; possible: a comment. */
export type Grade = 'sure' | 'likely' | 'possible';

/** How one setting may be spelled, and why that is thought. The entry's `file` is a file id of `Learnt`. */
export interface Proposal {
  readonly setting: SettingDefinition;
  readonly scope: ScopePoint;
  readonly grade: Grade;
  readonly entry: EntryWritten;
  /** Files and keys of the copies that it rests on. */
  readonly keys: readonly { readonly file: string; readonly key: string }[];
  /** Clauses, most telling first. No value that may be a secret is in them. */
  readonly evidence: readonly string[];
  /** What else would explain the same. */
  readonly rivals: readonly string[];
  /** Sure of its key, and of its spelling no more than the texts that were seen: what else it may be. */
  readonly undecided?: readonly string[];
  /** What no copy shows of its spelling, as a clause. Such an entry has no codec, and gets into no dialect. */
  readonly open?: string;
}

/** How controls are spelled, with what else fits every copy as well. */
export interface ControlsLearnt {
  readonly grade: Grade;
  readonly section: ControlsWritten;
  readonly evidence: readonly string[];
  /** Other numberings that fit all copies, in words. */
  readonly rivals: readonly string[];
}

/** One change on the device that would settle something: 'set X to Y and copy again'. */
export interface Question {
  readonly ask: string;
  /** Setting ids, or `controls`, that it would settle. */
  readonly settles: readonly string[];
}

export interface LearntFile {
  readonly id: string;
  /** Template below the root: `systems/{{system.folder}}.conf`. */
  readonly path: string;
  readonly format: FileFormat;
}

/** All that was told from the copies. */
export interface Learnt {
  readonly files: readonly LearntFile[];
  readonly controls: ControlsLearnt | undefined;
  readonly proposals: readonly Proposal[];
  /** Keys that changed by themselves. */
  readonly noise: readonly { readonly file: string; readonly key: string; readonly why: string }[];
  /** Keys that changed, and that nothing explains. */
  readonly unexplained: readonly { readonly file: string; readonly key: string }[];
  readonly leftAlone: readonly LeftAlone[];
  /** Settings that were labelled and are not told, with the reason. */
  readonly unlearnt: readonly {
    readonly setting: SettingDefinition;
    readonly scope: ScopePoint;
    readonly why: string;
  }[];
  readonly questions: readonly Question[];
  readonly findings: readonly Finding[];
}
