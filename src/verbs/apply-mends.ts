import type { Finding } from '../diagnostics/finding.ts';
import { hostOf } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { count } from '../report/wrap.ts';
import { encodeText } from '../text/encoding.ts';
import { lineColumn } from '../text/line-index.ts';
import type { SourceText } from '../text/source-text.ts';
import { applyEdits, sortEdits } from '../text/text-edit.ts';
import type { TextEdit } from '../text/text-edit.ts';
import type { Shell } from './contract.ts';

export type Mended = { readonly kind: 'done'; readonly count: number } | { readonly kind: 'failed' };

/** Applies the mends that are certain to the person's own files; of two that overlap, the first is applied. */
export function applyMends(shell: Shell, project: Project, findings: readonly Finding[]): Mended {
  const bySource = new Map<SourceText, TextEdit[]>();
  for (const { mend } of findings) {
    if (mend?.grade !== 'certain') continue;
    const known = bySource.get(mend.source);
    if (known === undefined) bySource.set(mend.source, [...mend.edits]);
    else known.push(...mend.edits);
  }
  let applied = 0;
  for (const [source, edits] of bySource) {
    const path = hostOf(project, source);
    if (path === undefined) continue;
    const fitting: TextEdit[] = [];
    let free = 0;
    for (const edit of sortEdits(edits)) {
      if (edit.span.start < free) continue;
      fitting.push(edit);
      free = Math.max(edit.span.end, edit.span.start + 1);
    }
    const result = shell.files.write(path, encodeText(applyEdits(source.text, fitting)));
    if (result.kind === 'failed') {
      shell.say(
        `thumbwright: ${source.name} cannot be written: ${result.why}.\nMake it writable, then run the same command again.\n`,
      );
      return { kind: 'failed' };
    }
    for (const edit of fitting) {
      const { line } = lineColumn(source, edit.span.start);
      shell.say(
        `mended ${source.name}:${line}: ${JSON.stringify(source.text.slice(edit.span.start, edit.span.end))} is now ${JSON.stringify(edit.text)}\n`,
      );
    }
    applied += fitting.length;
  }
  shell.say(applied === 0 ? 'No finding has a mend that is certain.\n' : `${count(applied, 'change')} made.\n`);
  return { kind: 'done', count: applied };
}
