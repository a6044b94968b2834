/** One condition of a range. */
interface Condition {
  readonly sign: '<' | '<=' | '=' | '>=' | '>';
  readonly version: string;
}

/** Numbers at the front, leading zeros off; then what is left, as text. */
function split(version: string): { readonly numbers: readonly string[]; readonly rest: string } {
  const numbers: string[] = [];
  let rest = version.trim().replace(/^[vV](?=[0-9])/, '');
  for (;;) {
    const match = /^[.\-_:+ ]?([0-9]+)/.exec(rest);
    if (match === null || (numbers.length === 0 && !/^[0-9]/.test(rest))) break;
    numbers.push((match[1] ?? '').replace(/^0+(?=[0-9])/, ''));
    rest = rest.slice(match[0].length);
  }
  return { numbers, rest };
}

/**
 * Compares frontend versions: number by number (a missing one is 0), then what follows the numbers as text, nothing
 * first. Below, at or above zero. Dates are numbers too; commits are text, so of them only `=` says something.
 */
export function compareVersions(a: string, b: string): number {
  const left = split(a);
  const right = split(b);
  for (let at = 0; at < Math.max(left.numbers.length, right.numbers.length); at++) {
    const x = left.numbers[at] ?? '0';
    const y = right.numbers[at] ?? '0';
    if (x.length !== y.length) return x.length - y.length;
    if (x !== y) return x < y ? -1 : 1;
  }
  return left.rest === right.rest ? 0 : left.rest < right.rest ? -1 : 1;
}

function conditions(range: string): readonly Condition[] | undefined {
  const found: Condition[] = [];
  for (const word of range.trim().split(/\s+/)) {
    const match = /^(<=|>=|<|>|=)?([0-9A-Za-z][^<>=\s]*)$/.exec(word);
    if (match === null) return undefined;
    const [, sign = '=', version = ''] = match;
    if (sign === '<' || sign === '<=' || sign === '=' || sign === '>=' || sign === '>') found.push({ sign, version });
  }
  return found.length > 0 ? found : undefined;
}

/** What is wrong with a range, as a clause; undefined when nothing is. */
export function badRange(range: string): string | undefined {
  return conditions(range) === undefined
    ? 'a range is versions with < <= = >= or > before them, joined by blanks, as in ">=2.0 <3"'
    : undefined;
}

/** Whether a version is in a range such as `>=2.0 <3` (`2.1` alone means `=2.1`). A malformed range holds for none. */
export function satisfiesVersions(version: string, range: string): boolean {
  const wanted = conditions(range);
  if (wanted === undefined) return false;
  return wanted.every(({ sign, version: bound }) => {
    const order = compareVersions(version, bound);
    switch (sign) {
      case '<':
        return order < 0;
      case '<=':
        return order <= 0;
      case '=':
        return order === 0;
      case '>=':
        return order >= 0;
      case '>':
        return order > 0;
    }
  });
}

/** The highest version that a range names from below (`>=`, `>`, `=`); undefined when it is open downwards. */
export function lowestOf(range: string): string | undefined {
  const bounds = (conditions(range) ?? []).filter((c) => c.sign !== '<' && c.sign !== '<=').map((c) => c.version);
  return bounds.sort(compareVersions).at(-1);
}
