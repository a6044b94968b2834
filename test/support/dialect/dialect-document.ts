import { isNode, isPair, isMap, parseDocument } from 'yaml';
import type { DialectDocument, Path } from '../../../src/model/document.ts';
import type { Place } from '../../../src/text/place.ts';
import type { DialectWritten } from '../../../src/vocabulary/shapes/dialect.ts';

const numbers: ReadonlySet<string> = new Set([
  'format',
  'scale',
  'offset',
  'step',
  'steps',
  'min',
  'max',
  'decimals',
  'rate',
]);
const flags: ReadonlySet<string> = new Set(['udev', 'trailing', 'inline-comments', 'fold-case', 'relaxed', 'remove']);

/** Every scalar is its source text, but for the members that are numbers or flags by the dialect's shape. */
function typed(name: string, value: unknown): unknown {
  if (typeof value !== 'string') return value;
  if (flags.has(name)) return value === 'true';
  return numbers.has(name) && value !== 'system' ? Number(value) : value;
}

/** A dialect from YAML text, with places, without the product's own reader. */
export function dialectDocument(text: string, name = 'dialect.yaml'): DialectDocument {
  const source = { name, text };
  const document = parseDocument(text, { schema: 'failsafe' });
  if (document.errors.length > 0) throw new Error(document.errors.join('\n'));
  const data = JSON.parse(JSON.stringify(document.toJS()), (name, value: unknown) =>
    Array.isArray(value) ? value.map((item) => typed(name, item)) : typed(name, value),
  ) as DialectWritten;
  const whole: Place = { source, span: { start: 0, end: text.length } };
  const at = (node: unknown): Place | undefined =>
    isNode(node) && node.range ? { source, span: { start: node.range[0], end: node.range[1] } } : undefined;
  const place = (path: Path): Place => {
    for (let length = path.length; length > 0; length--) {
      const found = at(document.getIn(path.slice(0, length), true));
      if (found !== undefined) return found;
    }
    return whole;
  };
  const keyPlace = (path: Path): Place => {
    const parent = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
    if (!isMap(parent)) return place(path);
    const pair = parent.items.find(
      (item) => isPair(item) && isNode(item.key) && String(item.key) === String(path.at(-1)),
    );
    return at(pair?.key) ?? place(path);
  };
  return { source, data, place, keyPlace };
}
