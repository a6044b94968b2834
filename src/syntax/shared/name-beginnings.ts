/** Longer names and more parts are not looked at, which keeps the work linear. */
const partsLooked = 8;
const lengthLooked = 200;

/** The beginnings of a name, shortest first: none of it, then up to each `_`, `-`, `.`, `/`, `:` or blank that parts it. */
export function eachBeginning(name: string, take: (beginning: string) => void): void {
  take('');
  const length = Math.min(name.length, lengthLooked);
  for (let k = 1, left = partsLooked; k < length && left > 0; k++) {
    if (!isPart(name.charCodeAt(k))) continue;
    take(name.slice(0, k + 1));
    left -= 1;
  }
}

/** `_`, `-`, `.`, `/`, `:` or a blank. */
function isPart(code: number): boolean {
  return code === 95 || (code >= 45 && code <= 47) || code === 58 || code === 32;
}

/** One wanted beginning, and the parts that lengthen it to others. */
interface Node {
  readonly beginning: string;
  readonly longer: Map<string, Node>;
  /** The index of the last name that begins so. */
  last: number | undefined;
}

/**
 * Of each beginning of a wanted name, the index of the last of `names` that has it. Only what is wanted is looked for:
 * an index of all beginnings of a long section costs more than reading it.
 */
export function lastWithBeginning(
  names: readonly string[],
  wanted: readonly string[],
): readonly { readonly beginning: string; readonly last: number }[] {
  const root: Node = { beginning: '', longer: new Map(), last: undefined };
  const nodes = [root];
  for (const name of wanted) {
    let node = root;
    eachBeginning(name, (beginning) => {
      if (beginning === '') return;
      const part = beginning.slice(node.beginning.length);
      let longer = node.longer.get(part);
      if (longer === undefined) {
        longer = { beginning, longer: new Map(), last: undefined };
        node.longer.set(part, longer);
        nodes.push(longer);
      }
      node = longer;
    });
  }
  for (let k = names.length - 1; k >= 0; k--) {
    const name = names[k] ?? '';
    for (let node: Node | undefined = root; node !== undefined; node = longerOf(node, name)) node.last ??= k;
  }
  return nodes.flatMap(({ beginning, last }) => (last === undefined ? [] : [{ beginning, last }]));
}

function longerOf({ beginning, longer }: Node, name: string): Node | undefined {
  if (longer.size === 0) return undefined;
  const at = beginning.length;
  if (longer.size === 1) {
    // The common case is told without taking a part out of the name.
    for (const [part, node] of longer) return name.startsWith(part, at) ? node : undefined;
  }
  const length = Math.min(name.length, lengthLooked);
  for (let k = Math.max(at, 1); k < length; k++) {
    if (isPart(name.charCodeAt(k))) return longer.get(name.slice(at, k + 1));
  }
  return undefined;
}
