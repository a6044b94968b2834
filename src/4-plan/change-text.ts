import type { Finding } from '../diagnostics/finding.ts';
import type { PlannedChange } from '../model/plan.ts';
import type { Change, Style, Syntax } from '../syntax/contract.ts';
import { applyEdits } from '../text/text-edit.ts';
import type { SourceText } from '../text/source-text.ts';
import { buildRecords } from './build-records.ts';
import { placesAfter } from './places-after.ts';
import { spellOut } from './spell-out.ts';
import type { FindSecret } from './spell-out.ts';

/** What changing a text made of it. */
export type ChangedText =
  | { readonly kind: 'unreadable'; readonly findings: readonly Finding[] }
  | {
      readonly kind: 'text';
      readonly text: string;
      /** Changes that the syntax refused; they are not in the text. */
      readonly refused: readonly { readonly change: PlannedChange; readonly finding: Finding }[];
    };

/**
 * Changes laid into a text, keys first and records after them, so that both may touch one place; no other byte is
 * changed. A secret that is not at hand keeps its placeholder: see `missingSecrets` before anything is written.
 */
export function changeText(
  syntax: Syntax,
  style: Style,
  source: SourceText,
  changes: readonly PlannedChange[],
  find: FindSecret,
): ChangedText {
  const parsed = syntax.parse(source, style);
  if (parsed.tree === undefined) return { kind: 'unreadable', findings: parsed.findings };
  const keyed = changes.filter((change) => change.op !== 'record');
  const made = syntax.change(
    parsed.tree,
    keyed.map((change): Change =>
      change.op === 'remove'
        ? { op: 'remove', path: change.key }
        : { op: 'set', path: change.key, value: spellOut(change.value, change.secrets, find) ?? change.value },
    ),
  );
  const refused: { readonly change: PlannedChange; readonly finding: Finding }[] = [];
  keyed.forEach((change, index) => {
    const result = made.results[index];
    if (result?.kind === 'refused') refused.push({ change, finding: result.finding });
  });
  const text = applyEdits(source.text, made.edits);
  const fields = changes.flatMap((change) =>
    change.op === 'record'
      ? [
          {
            change,
            record: change.target,
            value:
              change.value === undefined ? undefined : (spellOut(change.value, change.secrets, find) ?? change.value),
          },
        ]
      : [],
  );
  if (fields.length === 0) return { kind: 'text', text, refused };
  const tree = made.edits.length === 0 ? parsed.tree : syntax.parse({ name: source.name, text }, style).tree;
  const records = buildRecords(
    { syntax, style, name: source.name, tree, text, changes: placesAfter(made.edits) },
    fields,
  );
  refused.push(...records.refused.map(({ finding, edit }) => ({ change: edit.change, finding })));
  return { kind: 'text', text: records.text, refused };
}
