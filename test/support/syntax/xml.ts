import fc from 'fast-check';
import { readXml } from '../../../src/syntax/xml/read-xml.ts';
import type { XmlParent } from '../../../src/syntax/xml/xml-node.ts';
import { readXmlPath } from '../../../src/syntax/xml/xml-path.ts';
import { XmlTree } from '../../../src/syntax/xml/xml-tree.ts';
import { xml } from '../../../src/syntax/xml/xml.ts';
import type { SyntaxGenerator, SyntaxText } from './contract.ts';
import { xmlText } from './xml-texts.ts';

const units = ['a', 'b', ' ', '\n', '\t', '\r', '<', '&', '"', "'", ']', '>', 'é', '😀', '\0', '\udce9'];

/** A parent that had to be made stays, and so does the root of an empty text. */
function parentIsMissing({ text, style }: SyntaxText, path: string): boolean {
  const { document } = readXml({ name: 'text', text });
  const read = readXmlPath(path);
  if (document === undefined || !('path' in read)) return true;
  const { steps, attribute } = read.path;
  const tree = new XmlTree({ name: 'text', text }, style, document);
  const parents = tree.elements([document], attribute === undefined ? steps.slice(0, -1) : steps);
  return parents.length === 0 || document.pieces.every(({ kind }) => kind !== 'element');
}

/** What is made has its attributes and children of tests; an element that holds elements is no key any more. */
function brings({ text, style }: SyntaxText, path: string): number {
  const { document } = readXml({ name: 'text', text });
  const read = readXmlPath(path);
  if (document === undefined || !('path' in read)) return 0;
  const { steps, attribute } = read.path;
  const tree = new XmlTree({ name: 'text', text }, style, document);
  let there: readonly XmlParent[] = [document];
  const isMissing = steps.findIndex((step) => {
    const next = tree.elements(there, [step]);
    if (next.length > 0) there = next;
    return next.length === 0;
  });
  if (isMissing < 0) return 1;
  const made = steps.slice(isMissing);
  const holder = there.at(style.duplicates === 'last' ? -1 : 0);
  const wasKey = holder?.kind === 'element' && tree.text(holder) !== undefined;
  const tests = made.flatMap((step) => step.tests).filter(({ kind }) => kind === 'attribute' || kind === 'child');
  const emptyLast = attribute !== undefined && made.at(-1)?.tests.every(({ kind }) => kind !== 'child') === true;
  return 1 + tests.length + (emptyLast ? 1 : 0) - (wasKey ? 1 : 0);
}

/** One in the other, or below elements of one name, whose indexes may change. */
function related(a: string, b: string): boolean {
  const [one, other] = [a.split('/'), b.split('/')];
  const at = one.findIndex((step, index) => step !== other[index]);
  const [left, right] = [one[at], other[at]];
  return left === undefined || right === undefined || left.replace(/\[.*/, '') === right.replace(/\[.*/, '');
}

export const xmlGenerator: SyntaxGenerator = {
  syntax: xml,
  texts: fc
    .tuple(
      fc.boolean().chain(xmlText),
      fc.constantFrom({}, {}, { duplicates: 'last' as const }, { duplicates: 'first' as const }),
    )
    .map(([text, style]) => ({ text, style })),
  newPaths: fc
    .tuple(
      fc.constantFrom('/a', '/b', '/a/b', '/key/a', '/a[1]', '/a/a/b', '/b[2]/key'),
      fc.constantFrom('/new', '/@new', '/deep/er', "/option[@n='1']/@v", "/record[p='x']/q"),
    )
    .map((parts) => parts.join('')),
  values: fc.string({ maxLength: 6, unit: fc.constantFrom(...units) }).map((text) => ({ kind: 'scalar', text })),
  related,
  brings,
  notRestored: parentIsMissing,
  comments: (text) => text.match(/<!-- note -->/g) ?? [],
};
