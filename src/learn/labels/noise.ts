import { heldText } from '../copies/key-table.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { KeyRow } from '../contract.ts';

/** Observations that follow one of the same series with nothing changed between them, though changes are told elsewhere. */
export function idleObservations(table: KeyTable): ReadonlySet<number> {
  const idle = new Set<number>();
  table.observations.forEach(({ series, copy }, at) => {
    const changes = series.labels.filter(({ told }) => told === 'changed');
    if (copy > 0 && changes.length > 0 && !changes.some((label) => label.copy === copy)) idle.add(at);
  });
  return idle;
}

/** Whether a key holds another text than at the copy before; never at the first of a series. */
export function moves(table: KeyTable, row: KeyRow, at: number): boolean {
  return (table.observations[at]?.copy ?? 0) > 0 && heldText(row.held[at]) !== heldText(row.held[at - 1]);
}

/** Whether it ever moves within a series. */
export function varies(table: KeyTable, row: KeyRow): boolean {
  return row.held.some((_, at) => moves(table, row, at));
}

const clock = /^(\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2})?.*)?|1[0-9]{9}(\d{3})?|2[0-9]{9}|\d{1,2}:\d{2}(:\d{2})?)$/;

/** What a key that moves by itself is like, for people. */
function noiseKind(row: KeyRow): string {
  const texts = row.held.flatMap((held) => (held?.kind === 'scalar' ? [held.text] : []));
  if (texts.length > 0 && texts.every((text) => clock.test(text))) return 'a clock';
  const numbers = texts.map(Number);
  if (
    texts.length > 1 &&
    numbers.every(Number.isInteger) &&
    numbers.every((n, at) => at === 0 || n >= (numbers[at - 1] ?? n))
  )
    return 'a counter';
  return 'it changes by itself';
}

/** Keys that move where nobody changed anything, with what they are like. Told by pairing copies, not by their names. */
export function noiseOf(table: KeyTable, idle: ReadonlySet<number>): ReadonlyMap<KeyRow, string> {
  const found = new Map<KeyRow, string>();
  for (const row of table.rows) if ([...idle].some((at) => moves(table, row, at))) found.set(row, noiseKind(row));
  return found;
}
