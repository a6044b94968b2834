import { distance } from 'fastest-levenshtein';

/**
 * The known names nearest to what was written, best first, at most three, none further than a third of the
 * word's length (at least 2; `within` says otherwise) in edit distance; case and word order count for nothing.
 */
export function nearestNames(written: string, known: Iterable<string>, within?: number): readonly string[] {
  const fold = (name: string): string => name.toLowerCase().replaceAll('_', '-');
  const sorted = (name: string): string => fold(name).split('-').sort().join('-');
  const word = fold(written);
  const limit = within ?? Math.max(2, Math.floor(word.length / 3));
  const near: { name: string; far: number }[] = [];
  for (const name of known) {
    if (Math.abs(name.length - word.length) > limit) continue;
    const far = Math.min(distance(word, fold(name)), sorted(name) === sorted(written) ? 1 : Infinity);
    if (far <= limit) near.push({ name, far });
  }
  near.sort((a, b) => a.far - b.far || (a.name < b.name ? -1 : 1));
  return near.slice(0, 3).map((n) => n.name);
}
