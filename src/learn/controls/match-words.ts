import type { Position } from '../../vocabulary/positions.ts';
import type { KeyRow } from '../contract.ts';
import { controlText } from './targets.ts';
import type { ListChord, Target } from './targets.ts';

/** One way to give every setting a key, so that each control has one word and each word one control. */
export interface WordTable {
  readonly words: ReadonlyMap<Position, string>;
  readonly keys: ReadonlyMap<Target, KeyRow>;
}

/** Steps of the search before it is given up: far above what a sheet's copies need. */
const limit = 200_000;

/**
 * Where no numbering explains the controls, the frontend has words of its own. Settings are given keys by search with
 * forward checking (Haralick and Elliott 1980): a control has the same word in every copy. At most two solutions are
 * looked for: two mean that the copies do not decide it. `prefer` orders the keys of a setting, likeliest first.
 */
export function matchWords(
  targets: readonly Target[],
  chord: ListChord | undefined,
  prefer: (target: Target, row: KeyRow) => number,
): { readonly solutions: readonly WordTable[]; readonly cut: boolean } {
  const solutions: WordTable[] = [];
  const words = new Map<Position, string>();
  const owners = new Map<string, Position>();
  const keys = new Map<Target, KeyRow>();
  const used = new Set<KeyRow>();
  let steps = 0;

  /** Puts the words of a key down; undefined where they contradict what is there. Returns what to take back. */
  const place = (target: Target, row: KeyRow): readonly Position[] | undefined => {
    const added: Position[] = [];
    const undo = (): undefined => {
      for (const position of added) {
        owners.delete(words.get(position) ?? '');
        words.delete(position);
      }
      return undefined;
    };
    for (const [at, position] of target.known.entries()) {
      if (position === undefined || position === null) continue;
      const text = controlText(row.held[at], chord);
      if (text === undefined || text === '') return undo();
      const word = words.get(position);
      const owner = owners.get(text);
      if (word === undefined && owner === undefined) {
        words.set(position, text);
        owners.set(text, position);
        added.push(position);
      } else if (word !== text || owner !== position) return undo();
    }
    return added;
  };
  const fits = (target: Target): readonly KeyRow[] =>
    target.rows.filter((row) => {
      if (used.has(row)) return false;
      const added = place(target, row);
      for (const position of added ?? []) {
        owners.delete(words.get(position) ?? '');
        words.delete(position);
      }
      return added !== undefined;
    });
  const search = (left: readonly Target[]): void => {
    if (solutions.length >= 2 || steps > limit) return;
    if (left.length === 0) {
      solutions.push({ words: new Map(words), keys: new Map(keys) });
      return;
    }
    // The setting with fewest keys left first.
    const choices = left.map((target) => ({ target, rows: fits(target) }));
    choices.sort((a, b) => a.rows.length - b.rows.length);
    const [next] = choices;
    if (next === undefined) return;
    for (const row of [...next.rows].sort((a, b) => prefer(next.target, b) - prefer(next.target, a))) {
      steps += 1;
      const added = place(next.target, row);
      if (added === undefined) continue;
      used.add(row);
      keys.set(next.target, row);
      search(left.filter((target) => target !== next.target));
      used.delete(row);
      keys.delete(next.target);
      for (const position of added) {
        owners.delete(words.get(position) ?? '');
        words.delete(position);
      }
    }
  };
  search(targets.filter(({ known }) => known.some((position) => position !== undefined && position !== null)));
  return { solutions, cut: steps > limit };
}
