import fc from 'fast-check';
import { jsonTokens, token } from '../../../src/syntax/json/json-token.ts';
import { pointerSegments } from '../../../src/syntax/json/json-pointer.ts';
import { JsonTree } from '../../../src/syntax/json/json-tree.ts';
import { readJson } from '../../../src/syntax/json/read-json.ts';
import { sameValue } from '../../../src/syntax/json/same-json.ts';
import { json } from '../../../src/syntax/json/json.ts';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { jsonText } from './json-texts.ts';

const item = fc.oneof(
  fc
    .string({ maxLength: 6, unit: fc.constantFrom('a', '"', '\\', '\n', '\0', 'é', '😀', '\udce9', '/', ' ') })
    .map((text) => ({ text })),
  fc
    .constantFrom('true', 'null', '0', '-1.50e+3', '12345678901234567891', '1x')
    .map((text) => ({ text, literal: true })),
);

/** Objects that had to be made stay, and so does the `{}` of a text without content. */
function parentIsMissing({ text, style }: SyntaxText, path: string): boolean {
  const source = { name: 'text', text };
  const { root, head } = readJson(source, style.relaxed);
  const parent = new JsonTree(source, style, root, head).below(root, pointerSegments(path)?.slice(0, -1) ?? []);
  return parent === undefined || parent.kind === 'scalar';
}

/** A list is a key, and so is each of its items; an array that is given a container is no list of scalars any more. */
function brings({ text, style }: SyntaxText, path: string, value: SyntaxValue): number {
  const tree = json.parse({ name: 'text', text }, style).tree;
  const above = path.split('/').map((_, k, all) => all.slice(0, k).join('/'));
  const wasList = above.some((parent) => tree?.get(parent)?.kind === 'list');
  const direct = tree?.get(above.at(-1) ?? '') !== undefined;
  const items = value.kind === 'list' ? value.items.length : 0;
  return 1 + items - (wasList && !(direct && value.kind === 'scalar') ? 1 : 0);
}

/** Comments outside arrays and not between a name and its value: these go with the key. */
function standingComments(text: string): readonly string[] {
  const comments: string[] = [];
  let held: string[] = [];
  let arrays = 0;
  let last: number = token.comma;
  for (const { kind, start, end } of jsonTokens(text, text.startsWith('\ufeff') ? 1 : 0)) {
    if (kind === token.blank || kind === token.lineBreak) continue;
    if (kind === token.lineComment || kind === token.blockComment) {
      if (arrays === 0 && last !== token.colon) held.push(text.slice(start, end));
      continue;
    }
    if (kind !== token.colon) comments.push(...held);
    held = [];
    if (kind === token.openBracket) arrays += 1;
    else if (kind === token.closeBracket) arrays -= 1;
    last = kind;
  }
  return comments;
}

/** One in the other, or items of one array, which may change places. */
function related(a: string, b: string): boolean {
  const [one, other] = [a.split('/'), b.split('/')];
  const at = one.findIndex((segment, index) => segment !== other[index]);
  const [left, right] = [one[at], other[at]];
  if (left === undefined || right === undefined) return true;
  return /^[0-9]+$/.test(left) && /^[0-9]+$/.test(right);
}

export const jsonGenerator: SyntaxGenerator = {
  syntax: json,
  texts: fc
    .boolean()
    .chain((relaxed) => jsonText(relaxed).map((text) => ({ text, style: relaxed ? {} : { relaxed: false } }))),
  newPaths: fc
    .tuple(
      fc.constantFrom('', '', '/a', '/b', '/a/b', '/key', '/0', '/m~0n'),
      fc.constantFrom('/new', '/new/deep', '/n~1w', '/2', '/3'),
    )
    .map((parts) => parts.join('')),
  values: fc.oneof(
    item.map((one): SyntaxValue => ({ kind: 'scalar', ...one })),
    fc.array(item, { maxLength: 4 }).map((items): SyntaxValue => ({ kind: 'list', items })),
  ),
  same: sameValue,
  related,
  brings,
  notRestored: parentIsMissing,
  comments: standingComments,
};
