import type { Outcome } from '../diagnostics/finding.ts';
import type { SourceText } from '../text/source-text.ts';
import type { FileTask, MergedFile } from './merge-file.ts';
import type { MergeInput } from './merge-keys.ts';

export function mergeWhole(_i: MergeInput, task: FileTask, _s: SourceText | undefined): Outcome<MergedFile> {
  return { value: { planned: undefined, record: task.recorded }, findings: [] };
}
