import type { Edit, WholeFile } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { RecordedFile, RecordedKey } from '../model/record.ts';

/** A recorded key with the path of its file. */
export type OldKey = RecordedKey & { readonly path: CardPath };

/** All that concerns one path. */
export interface FileTask {
  readonly path: CardPath;
  readonly edits: readonly Edit[];
  readonly whole: WholeFile | undefined;
  readonly recorded: RecordedFile | undefined;
  /** What is recorded of an edit's key, or of the key that its setting had before. */
  oldOf(edit: Edit): OldKey | undefined;
  /** Recorded keys here that no edit names. */
  readonly orphans: readonly OldKey[];
  /** The edit that has taken the place of such a key. */
  successorOf(old: OldKey): Edit | undefined;
}
