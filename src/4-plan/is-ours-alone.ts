import type { PlannedChange } from '../model/plan.ts';
import type { RecordedKey } from '../model/record.ts';
import type { Style, Syntax } from '../syntax/contract.ts';
import { changeText } from './change-text.ts';

/**
 * Whether a text that all our keys were taken out of is what is left of a file that held nothing else: our keys, put into
 * an empty file and taken out again, leave the same. Then the file itself is ours, and goes.
 */
export function isOursAlone(text: string, keys: readonly RecordedKey[], syntax: Syntax, style: Style): boolean {
  const put: PlannedChange[] = [];
  const out: PlannedChange[] = [];
  for (const { key, record, written } of keys) {
    if (written.kind === 'absent') continue;
    // Of a secret no text is known; what it was leaves no trace.
    const value = written.kind === 'text' ? written.value : ({ kind: 'scalar', text: 'x' } as const);
    if (record === undefined) {
      put.push({ op: 'set', key, value, secrets: [] });
      out.push({ op: 'remove', key });
    } else {
      put.push({ op: 'record', target: record, value, secrets: [] });
      out.push({ op: 'record', target: record, value: undefined, secrets: [] });
    }
  }
  const none = (): undefined => undefined;
  const filled = changeText(syntax, style, { name: 'ours', text: '' }, put, none);
  if (filled.kind === 'unreadable') return false;
  const emptied = changeText(syntax, style, { name: 'ours', text: filled.text }, out, none);
  return emptied.kind === 'text' && emptied.text === text;
}
