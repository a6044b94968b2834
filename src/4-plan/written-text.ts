import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { PlannedChange, PlannedFile } from '../model/plan.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';
import { styleOf } from '../dialect/style-of.ts';
import { changeText } from './change-text.ts';
import { spellPieces } from './spell-pieces.ts';
import type { FindSecret } from './spell-out.ts';
import { placeIn } from './subject.ts';

/**
 * The text that a planned file is to hold, from what it holds now (undefined: there is no file). Undefined with no
 * finding: no text of ours (nothing is changed, or the file is removed or restored), or a secret is not at hand: see
 * `missingSecrets` first. Errors: those of the syntax, for a change that it refuses.
 */
export function writtenText(
  planned: PlannedFile,
  current: SourceText | undefined,
  find: FindSecret,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
): Outcome<string | undefined> {
  if (planned.act === 'whole') return { value: spellPieces(planned.pieces, find, syntaxes), findings: [] };
  if (planned.act !== 'change') return { value: undefined, findings: [] };
  const source = current ?? { name: planned.path, text: '' };
  const made = changeText(syntaxes[planned.syntax], styleOf(planned.style), source, planned.changes, find);
  if (made.kind === 'unreadable') return { value: undefined, findings: made.findings };
  if (made.refused.length > 0)
    return { value: undefined, findings: made.refused.map(({ change, finding }) => ofKey(planned, change, finding)) };
  return { value: made.text, findings: [] };
}

/** A refusal of the syntax is placed in the card's file; the person must be told which line of theirs asked for it. */
function ofKey(planned: PlannedFile, change: PlannedChange, finding: Finding): Finding {
  const place = placeOf(change);
  const key = planned.keys.find((candidate) => candidate.act === 'write' && placeIn(candidate) === place);
  if (key === undefined) return finding;
  const from = key.origin === undefined ? '' : ` (${key.origin.file}, line ${key.origin.line})`;
  return makeFinding(finding.code, {
    grade: finding.grade,
    detail: `${key.setting}${from}: ${finding.detail}`,
    wayOut: finding.wayOut,
    ...(finding.place === undefined ? {} : { place: finding.place }),
    setting: key.setting,
    instance: key.instance,
  });
}

function placeOf(change: PlannedChange): string {
  return change.op === 'record' ? placeIn({ key: '', record: change.target }) : change.key;
}
