import type { CardPath } from '../model/paths.ts';
import type { Ownership } from '../files/disk.ts';
import type { Work } from './apply-input.ts';

/** One file of a turn. Hashes are SHA-256 in hex; null: no file. */
export interface TurnFile {
  readonly path: CardPath;
  readonly part: string;
  /** Where it really lies below the part's folder, links followed. */
  readonly at: string;
  /** What is written beside it first. */
  readonly temporary: string;
  readonly before: string | null;
  readonly after: string | null;
  /** Of the file that stood there. */
  readonly had: Ownership;
  /** For the file that will. */
  readonly gets: Ownership;
  readonly keys?: Work['keys'];
}

/** A folder below a part's, as `at` of a file. */
export interface TurnFolder {
  readonly part: string;
  readonly at: string;
}

/** All that one write or undo does to a card: what is kept of it, and what the journal points at while it is under way. */
export interface Turn {
  readonly format: 1;
  readonly number: number;
  readonly act: { readonly kind: 'write' } | { readonly kind: 'undo'; readonly undoes: number };
  readonly stamp: string;
  readonly files: readonly TurnFile[];
  /** Folders that were missing, outer ones first. */
  readonly makes: readonly TurnFolder[];
  /** Folders to take off again when they are empty, inner ones first. */
  readonly drops: readonly TurnFolder[];
  readonly record: { readonly before: string | null; readonly after: string | null };
}
