/**
 * For each value: which of the present siblings a new one goes before, so that sorted siblings stay sorted. Of
 * siblings that are not sorted it is the first greater one. Compared by code unit. Each look-up takes log n.
 *
 * @returns a position in `present`, or `present.length`: after all of them.
 */
export function sortedPlace(present: readonly string[]): (value: string) => number {
  const highest: string[] = [];
  let top = '';
  for (const value of present) {
    if (value > top) top = value;
    highest.push(top);
  }
  return (value) => {
    let low = 0;
    let high = highest.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((highest[middle] ?? '') > value) high = middle;
      else low = middle + 1;
    }
    return low;
  };
}
