/** Lines `at` to `at + old` of one text become lines `to` to `to + fresh` of another. */
export interface LineChange {
  readonly at: number;
  readonly old: number;
  readonly to: number;
  readonly fresh: number;
}

/** So many changed lines that the file is another one. */
const most = 2000;

/**
 * The shortest way from one list of lines to another (E. Myers, 'An O(ND) Difference Algorithm', 1986), in order, no two
 * changes touching. An insertion or removal that could stand in several places is put last. Texts without much in
 * common are one change.
 */
export function lineDifference(from: readonly string[], to: readonly string[]): readonly LineChange[] {
  let start = 0;
  while (start < from.length && start < to.length && from[start] === to[start]) start += 1;
  let end = 0;
  while (
    end < from.length - start &&
    end < to.length - start &&
    from[from.length - 1 - end] === to[to.length - 1 - end]
  )
    end += 1;
  const a = from.slice(start, from.length - end);
  const b = to.slice(start, to.length - end);
  if (a.length === 0 && b.length === 0) return [];
  const kept = common(a, b);
  const changes: LineChange[] = [];
  let x = 0;
  let y = 0;
  for (const [nextX, nextY] of [...kept, [a.length, b.length] as const]) {
    if (nextX > x || nextY > y) changes.push({ at: start + x, old: nextX - x, to: start + y, fresh: nextY - y });
    x = nextX + 1;
    y = nextY + 1;
  }
  return joined(changes.map((change) => slidDown(change, from, to)));
}

/** Pairs of lines that stay, in order. */
function common(a: readonly string[], b: readonly string[]): readonly (readonly [number, number])[] {
  const trace: ReadonlyMap<number, number>[] = [];
  const furthest = new Map<number, number>([[1, 0]]);
  for (let steps = 0; steps <= Math.min(a.length + b.length, most); steps++) {
    trace.push(new Map(furthest));
    for (let k = -steps; k <= steps; k += 2) {
      const down = k === -steps || (k !== steps && (furthest.get(k - 1) ?? -1) < (furthest.get(k + 1) ?? -1));
      let x = down ? (furthest.get(k + 1) ?? 0) : (furthest.get(k - 1) ?? 0) + 1;
      while (x < a.length && x - k < b.length && a[x] === b[x - k]) x += 1;
      furthest.set(k, x);
      if (x >= a.length && x - k >= b.length) return back(trace, a.length, b.length);
    }
  }
  return [];
}

function back(
  trace: readonly ReadonlyMap<number, number>[],
  endX: number,
  endY: number,
): readonly (readonly [number, number])[] {
  const pairs: [number, number][] = [];
  let [x, y] = [endX, endY];
  for (let steps = trace.length - 1; steps >= 0; steps--) {
    const furthest = trace[steps] ?? new Map<number, number>();
    const k = x - y;
    const down = k === -steps || (k !== steps && (furthest.get(k - 1) ?? -1) < (furthest.get(k + 1) ?? -1));
    const before = down ? k + 1 : k - 1;
    const startX = furthest.get(before) ?? 0;
    const startY = startX - before;
    while (x > startX && y > startY && x > 0 && y > 0) pairs.push([--x, --y]);
    [x, y] = [startX, startY];
  }
  return pairs.reverse();
}

/** What is only put in or only taken out, as far down as the same lines allow. */
function slidDown(change: LineChange, from: readonly string[], to: readonly string[]): LineChange {
  let { at, to: put } = change;
  const { old, fresh } = change;
  if (old === 0)
    while (at < from.length && to[put] === from[at] && to[put + fresh] === from[at]) [at, put] = [at + 1, put + 1];
  else if (fresh === 0)
    while (put < to.length && from[at] === to[put] && from[at + old] === to[put]) [at, put] = [at + 1, put + 1];
  return { at, old, to: put, fresh };
}

/** Changes that have come to touch each other are one. */
function joined(changes: readonly LineChange[]): readonly LineChange[] {
  const out: LineChange[] = [];
  for (const change of changes) {
    const last = out.at(-1);
    if (last === undefined || change.at > last.at + last.old) out.push(change);
    else
      out[out.length - 1] = {
        at: last.at,
        old: change.at + change.old - last.at,
        to: last.to,
        fresh: change.to + change.fresh - last.to,
      };
  }
  return out;
}
