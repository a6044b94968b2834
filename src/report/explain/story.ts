import { plainText } from '../../model/plain-text.ts';
import { visible } from '../../diagnostics/visible.ts';
import type { Edit, FidelityEntry } from '../../model/compiled.ts';
import type { Candidate, Decision } from '../../model/resolved.ts';
import { lineColumn, lineStarts } from '../../text/line-index.ts';
import type { Place } from '../../text/place.ts';
import { placeText } from '../terminal/code-frame.ts';
import { scopeText } from '../fidelity.ts';

/** The trimmed text of the line on which a place begins. */
export function lineAt(place: Place): string {
  const { line } = lineColumn(place.source, place.span.start);
  const starts = lineStarts(place.source.text);
  return visible(place.source.text.slice(starts[line - 1] ?? 0, starts[line] ?? place.source.text.length).trim());
}

/** What a candidate says, as written. */
function written(candidate: Candidate): string {
  const { source, span } = candidate.origin.place;
  const text = source.text.slice(span.start, span.end).split('\n')[0] ?? '';
  return visible(text.trim().slice(0, 60));
}

/** Where a decision came from: its line, its layer, what lost to it, what was passed over. */
export function decisionLines(decision: Decision): readonly string[] {
  const { origin } = decision;
  const lines = [`from ${placeText(origin.place)} (${origin.layer}): ${lineAt(origin.place)}`];
  for (const loser of decision.losers) {
    const what = loser.wish.kind === 'clear' ? 'null' : written(loser);
    lines.push(`over ${placeText(loser.origin.place)} (${loser.origin.layer}): ${what}`);
  }
  for (const rejected of decision.rejected) lines.push(`not ${visible(rejected.what)}: ${visible(rejected.why)}`);
  return lines;
}

/** What a key holds, for people: its text, or that it is taken out. */
export function keyText(edit: Edit): string {
  if (edit.value === undefined) return 'removed';
  const text = plainText(edit.value);
  return text === '' && edit.value.kind === 'scalar' ? '(empty)' : visible(text);
}

/** The whole story of edits of one setting, instance and scope: files and keys, values, profile line, dialect line, rule. */
export function editLines(edits: readonly Edit[], device?: string): readonly string[] {
  const [edit] = edits;
  if (edit === undefined) return [];
  const setting = edit.item === undefined ? edit.setting : `${edit.setting} ${edit.item}`;
  const lines = [
    `${device === undefined ? '' : `${device}: `}${setting} for ${edit.instance}, ${scopeText(edit.scope)}`,
  ];
  for (const one of edits) lines.push(`  key ${visible(one.key)} in ${one.path}: ${keyText(one)}`);
  const story =
    edit.decision === undefined
      ? [`from ${placeText(edit.origin.place)} (${edit.origin.layer}): ${lineAt(edit.origin.place)}`]
      : decisionLines(edit.decision);
  lines.push(...story.map((line) => `  ${line}`));
  if (edit.dialectPlace !== undefined)
    lines.push(`  spelled by ${placeText(edit.dialectPlace)}: ${lineAt(edit.dialectPlace)}`);
  lines.push(`  rule ${edit.rule.name}: ${edit.rule.says}`);
  return lines;
}

/** What became of a setting at one scope of one instance. */
export function fidelityLine(entry: FidelityEntry): string {
  switch (entry.fidelity.kind) {
    case 'exact':
      return 'said exactly';
    case 'approximated':
      return `approximated: ${entry.fidelity.how}`;
    case 'cannot':
      return `cannot be said there: ${entry.fidelity.why}`;
  }
}
