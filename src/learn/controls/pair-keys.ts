import type { KeyRow } from '../contract.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { KeyChoice } from './assign-keys.ts';
import { controlText } from './targets.ts';

/** What tells the key of one form from that of another: `-button` becomes `-tilt`. */
interface Difference {
  readonly forms: readonly [string, string];
  readonly texts: readonly [string, string];
}

/** What stands between the common beginning and the common end of two keys. */
function difference(a: string, b: string): readonly [string, string] {
  let start = 0;
  while (start < a.length && start < b.length && a[start] === b[start]) start += 1;
  let end = 0;
  while (end < a.length - start && end < b.length - start && a.at(-1 - end) === b.at(-1 - end)) end += 1;
  return [a.slice(start, a.length - end), b.slice(start, b.length - end)];
}

/** The differences of all settings that were seen in both keys of a pair. */
function differences(choices: readonly (readonly KeyChoice[])[]): readonly Difference[] {
  return choices.flatMap(([choice]) => {
    if (choice === undefined || typeof choice.key === 'string') return [];
    const [first, second] = Object.entries(choice.key);
    if (typeof first?.[1] !== 'string' || typeof second?.[1] !== 'string') return [];
    return [{ forms: [first[0], second[0]], texts: difference(first[1], second[1]) } as const];
  });
}

/**
 * Where some settings have a key for buttons and one for axes, told apart by one part of the name, the others have the like:
 * their second key was only never needed. It must be there, and hold what stands for nothing in every copy.
 */
export function withPairs(
  choices: readonly (readonly KeyChoice[])[],
  table: KeyTable,
  nothing: string | undefined,
): readonly (readonly KeyChoice[])[] {
  const known = differences(choices);
  if (known.length === 0) return choices;
  const rows = new Map(table.rows.map((row) => [`${row.file}\0${row.key}`, row]));
  const idle = (row: KeyRow): boolean =>
    row.held.every((held) => held === undefined || controlText(held, undefined) === nothing);
  return choices.map((own) =>
    own.map((choice) => {
      const [row] = choice.rows;
      if (typeof choice.key !== 'string' || row === undefined) return choice;
      for (const { forms, texts } of known)
        for (const [from, to] of [
          [0, 1],
          [1, 0],
        ] as const) {
          const [text, other] = [texts[from], texts[to]];
          if (text === '' || other === '' || !row.key.includes(text)) continue;
          const sibling = rows.get(`${row.file}\0${row.key.replace(text, other)}`);
          if (sibling === undefined || sibling === row || !idle(sibling)) continue;
          const pair = [[forms[from], row.key] as const, [forms[to], sibling.key] as const];
          const key = Object.fromEntries(from === 0 ? pair : pair.reverse());
          return { rows: [row, sibling], key, nothing };
        }
      return choice;
    }),
  );
}
