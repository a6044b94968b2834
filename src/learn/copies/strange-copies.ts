import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Copy, Series } from '../contract.ts';
import type { KeyTable } from './key-table.ts';

/** Copies of one series that cannot be of one frontend: no file in common, or not one key of the files in common. */
export function strangeCopies(series: readonly Series[], table: KeyTable): readonly Finding[] {
  return series.flatMap((one) => {
    const [first, ...others] = one.copies;
    if (first === undefined || first.texts.size === 0) return [];
    const start = table.observations.findIndex((observation) => observation.series === one);
    for (const [number, other] of others.entries()) {
      const shared = [...other.texts.keys()].some((path) => first.texts.has(path));
      if (!shared) return [strange(first, other, 'have no file in common')];
      const [at, then] = [start, start + 1 + number];
      const own = table.rows.filter(({ held }) => held[at] !== undefined);
      const theirs = table.rows.filter(({ held }) => held[then] !== undefined);
      if (own.length > 0 && theirs.length > 0 && !own.some(({ held }) => held[then] !== undefined))
        return [strange(first, other, 'have a file of one name, and not one of its keys in common')];
    }
    return [];
  });
}

function strange(first: Copy, other: Copy, how: string): Finding {
  return makeFinding('copies-of-two-frontends', {
    detail: `${first.name} and ${other.name} ${how}.`,
    wayOut: 'Give copies of one frontend, each from the same folder on the device.',
  });
}
