import type { Place } from '../text/place.ts';
import type { TextEdit } from '../text/text-edit.ts';
import type { SourceText } from '../text/source-text.ts';
import type { Code } from './catalogue.ts';

/** `error` stops a build, `warning` stops it under --strict, `note` is true of nearly every set-up. */
export type Grade = 'error' | 'warning' | 'note';

/** A second place that the reader needs: the other layer, the dialect, the file on the card. */
export interface Related {
  readonly place: Place;
  /** A few words, lower case, no full stop: 'first given here'. */
  readonly note: string;
}

/**
 * A change to the person's own files. `certain` ones are what `check --fix` applies; `likely` ones are offered;
 * a `hint` is only words.
 */
export interface Mend {
  readonly grade: 'certain' | 'likely' | 'hint';
  readonly source: SourceText;
  readonly edits: readonly TextEdit[];
}

/**
 * One thing to tell the person. The summary belongs to the code (catalogue) and holds no user values.
 * `detail`: what, where, why it matters; `wayOut`: an imperative that can be followed as written.
 */
export interface Finding {
  readonly code: Code;
  readonly grade: Grade;
  readonly detail: string;
  readonly wayOut: string;
  /** Absent only when no text is at fault (an unwritable folder). */
  readonly place?: Place;
  readonly related?: readonly Related[];
  /** Setting id, where one is concerned. */
  readonly setting?: string;
  /** Frontend instance, where one is concerned. */
  readonly instance?: string;
  /** Other names that an `allow` entry may reach it by (a second action, a core). */
  readonly about?: readonly string[];
  readonly mend?: Mend;
  /** Controls to draw for it: those that the device has, and the ones meant, in pressing order. */
  readonly picture?: {
    readonly body: 'upright' | 'wide' | 'folding' | undefined;
    readonly has: readonly string[];
    readonly marked: readonly string[];
  };
}

/** What every function that can meet bad input returns; it throws only for bugs of ours. */
export interface Outcome<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
}
