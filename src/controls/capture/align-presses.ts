/** What each wanted control was matched with: an index of the presses, nothing, or not to be told. */
export type Match =
  { readonly kind: 'press'; readonly index: number } | { readonly kind: 'missed' } | { readonly kind: 'unsure' };

/** What it costs to believe something; the cheapest story wins, if no other is nearly as cheap. */
export interface Costs {
  /** Infinity: impossible. */
  match(wanted: number, press: number): number;
  missed(wanted: number): number;
  stray(press: number): number;
}

/** A story that costs less than this more than the cheapest could be true as well. */
const margin = 1;

/**
 * Aligns presses with the controls that were asked for: both in their order, some controls not pressed, some presses
 * stray. The method is that of sequence alignment (Needleman and Wunsch, 1970), with costs to and from every cell, so that
 * a match is given only when every story without it is clearly dearer.
 */
export function alignPresses(wanted: number, presses: number, costs: Costs): readonly Match[] {
  const width = presses + 1;
  const ahead = new Float64Array((wanted + 1) * width).fill(Infinity);
  const behind = new Float64Array((wanted + 1) * width).fill(Infinity);
  const get = (table: Float64Array, i: number, j: number): number => table[i * width + j] ?? Infinity;
  for (let i = 0; i <= wanted; i++) {
    for (let j = 0; j <= presses; j++) {
      let best = i === 0 && j === 0 ? 0 : Infinity;
      if (i > 0) best = Math.min(best, get(ahead, i - 1, j) + costs.missed(i - 1));
      if (j > 0) best = Math.min(best, get(ahead, i, j - 1) + costs.stray(j - 1));
      if (i > 0 && j > 0) best = Math.min(best, get(ahead, i - 1, j - 1) + costs.match(i - 1, j - 1));
      ahead[i * width + j] = best;
    }
  }
  for (let i = wanted; i >= 0; i--) {
    for (let j = presses; j >= 0; j--) {
      let best = i === wanted && j === presses ? 0 : Infinity;
      if (i < wanted) best = Math.min(best, get(behind, i + 1, j) + costs.missed(i));
      if (j < presses) best = Math.min(best, get(behind, i, j + 1) + costs.stray(j));
      if (i < wanted && j < presses) best = Math.min(best, get(behind, i + 1, j + 1) + costs.match(i, j));
      behind[i * width + j] = best;
    }
  }
  return Array.from({ length: wanted }, (_, i) => {
    const stories: { match: Match; cost: number }[] = [];
    let missed = Infinity;
    for (let j = 0; j <= presses; j++) {
      missed = Math.min(missed, get(ahead, i, j) + costs.missed(i) + get(behind, i + 1, j));
      if (j < presses)
        stories.push({
          match: { kind: 'press', index: j },
          cost: get(ahead, i, j) + costs.match(i, j) + get(behind, i + 1, j + 1),
        });
    }
    stories.push({ match: { kind: 'missed' }, cost: missed });
    stories.sort((a, b) => a.cost - b.cost);
    const [best, second] = stories;
    if (best === undefined || (second !== undefined && second.cost - best.cost < margin)) return { kind: 'unsure' };
    return best.match;
  });
}
