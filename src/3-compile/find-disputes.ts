import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Edit } from '../model/compiled.ts';

/** Two settings, or two instances, that give one key of one file different texts: whichever came last would win. */
export function findDisputes(edits: readonly Edit[]): readonly Finding[] {
  const first = new Map<string, Edit>();
  const findings: Finding[] = [];
  for (const edit of edits) {
    const key = `${edit.path}\n${edit.key}`;
    const other = first.get(key);
    if (other === undefined) {
      first.set(key, edit);
      continue;
    }
    if (JSON.stringify(other.value) === JSON.stringify(edit.value)) continue;
    const two =
      edit.instance === other.instance
        ? `${other.setting} and ${edit.setting}`
        : `${other.instance} and ${edit.instance}`;
    findings.push(
      makeFinding('two-texts-for-one-key', {
        place: edit.origin.place,
        related: [
          { place: other.origin.place, note: 'the other text comes from here' },
          ...(edit.dialectPlace === undefined ? [] : [{ place: edit.dialectPlace, note: 'the key is written here' }]),
        ],
        setting: edit.setting,
        instance: edit.instance,
        detail: `${two} give the key ${edit.key} of ${edit.path} different texts.`,
        wayOut:
          edit.instance === other.instance
            ? 'Remove one of the two settings for this frontend, or give it in an only block for another.'
            : 'Give the two frontends roots of their own.',
      }),
    );
  }
  return findings;
}
