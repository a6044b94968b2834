import type { SourceText } from '../../text/source-text.ts';
import type { KeyPlace, Style, SyntaxValue, Tree } from '../contract.ts';
import { decodeBytesAs } from './decode-bytes-as.ts';
import { decodeAttribute, decodeCdata, decodeText } from './xml-characters.ts';
import type { XmlAttribute, XmlDocument, XmlElement, XmlParent } from './xml-node.ts';
import { readXmlPath } from './xml-path.ts';
import type { XmlPath, XmlStep, XmlTest } from './xml-path.ts';

/** A place that a path names. */
export type XmlTarget =
  | { readonly kind: 'element'; readonly element: XmlElement }
  | { readonly kind: 'attribute'; readonly element: XmlElement; readonly attribute: XmlAttribute };

/**
 * An XML text with its elements. A key is an attribute, or an element without elements in it, whose value is its exact
 * text: blanks around it too, since only its program knows whether they count.
 */
export class XmlTree implements Tree {
  readonly source: SourceText;
  readonly style: Style;
  readonly document: XmlDocument;
  readonly #children = new WeakMap<XmlParent, ReadonlyMap<string, readonly XmlElement[]>>();
  readonly #tested = new WeakMap<XmlParent, Map<string, ReadonlyMap<string, readonly XmlElement[]>>>();
  readonly #attributes = new WeakMap<XmlElement, ReadonlyMap<string, XmlAttribute>>();

  constructor(source: SourceText, style: Style, document: XmlDocument) {
    this.source = source;
    this.style = style;
    this.document = document;
  }

  /** The tree of a text that `xml.parse` read. */
  static of(tree: Tree): XmlTree {
    if (tree instanceof XmlTree) return tree;
    throw new Error('A tree of another syntax was given to xml. This is a bug in thumbwright.');
  }

  /** Child elements by name. */
  children(parent: XmlParent): ReadonlyMap<string, readonly XmlElement[]> {
    let names = this.#children.get(parent);
    if (names === undefined) {
      const made = new Map<string, XmlElement[]>();
      for (const piece of parent.pieces) {
        if (piece.kind !== 'element') continue;
        const same = made.get(piece.name);
        if (same === undefined) made.set(piece.name, [piece]);
        else same.push(piece);
      }
      this.#children.set(parent, (names = made));
    }
    return names;
  }

  attribute(element: XmlElement, name: string): XmlAttribute | undefined {
    if (element.attributes.length < 8) return element.attributes.find((attribute) => attribute.name === name);
    let names = this.#attributes.get(element);
    if (names === undefined) {
      names = new Map(element.attributes.map((attribute) => [attribute.name, attribute]));
      this.#attributes.set(element, names);
    }
    return names.get(name);
  }

  attributeValue({ opaque, valueStart, valueEnd }: XmlAttribute): string | undefined {
    return opaque ? undefined : decodeAttribute(this.#slice(valueStart, valueEnd));
  }

  /** The element's text, or undefined when it has elements in it or an entity that is not expanded. */
  text(element: XmlElement): string | undefined {
    let text = '';
    for (const { kind, start, end, ...rest } of element.pieces) {
      if (kind === 'element' || ('opaque' in rest && rest.opaque)) return undefined;
      if (kind === 'text') text += decodeText(this.#slice(start, end));
      else if (kind === 'cdata') text += decodeCdata(this.#slice(start + 9, end - 3));
    }
    return text;
  }

  #slice(start: number, end: number): string {
    return decodeBytesAs(this.source.text.slice(start, end), this.document.encoding);
  }

  value(target: XmlTarget): string | undefined {
    return target.kind === 'element' ? this.text(target.element) : this.attributeValue(target.attribute);
  }

  /** What a test compares, for one element. Several children of one name: any may hold the value, as in XPath. */
  #testedValues(element: XmlElement, test: Exclude<XmlTest, { kind: 'index' }>): readonly (string | undefined)[] {
    if (test.kind === 'text') return [this.text(element)];
    if (test.kind === 'child') return (this.children(element).get(test.name) ?? []).map((child) => this.text(child));
    const attribute = this.attribute(element, test.name);
    return attribute === undefined ? [] : [this.attributeValue(attribute)];
  }

  /** The children of one parent that a step names. Linear in the children once, then in the matches. */
  step(parent: XmlParent, { name, tests }: XmlStep): readonly XmlElement[] {
    let found = this.children(parent).get(name) ?? [];
    tests.forEach((test, order) => {
      if (test.kind === 'index') {
        const only = found[test.index - 1];
        found = only === undefined ? [] : [only];
      } else if (order === 0) found = this.#byTest(parent, name, test).get(test.value) ?? [];
      else found = found.filter((element) => this.#testedValues(element, test).includes(test.value));
    });
    return found;
  }

  #byTest(
    parent: XmlParent,
    name: string,
    test: Exclude<XmlTest, { kind: 'index' }>,
  ): ReadonlyMap<string, readonly XmlElement[]> {
    let indexes = this.#tested.get(parent);
    if (indexes === undefined)
      this.#tested.set(parent, (indexes = new Map<string, ReadonlyMap<string, readonly XmlElement[]>>()));
    const id = `${name} ${test.kind} ${test.kind === 'text' ? '' : test.name}`;
    let index = indexes.get(id);
    if (index === undefined) {
      const made = new Map<string, XmlElement[]>();
      for (const element of this.children(parent).get(name) ?? []) {
        for (const value of new Set(this.#testedValues(element, test))) {
          if (value === undefined) continue;
          const same = made.get(value);
          if (same === undefined) made.set(value, [element]);
          else same.push(element);
        }
      }
      indexes.set(id, (index = made));
    }
    return index;
  }

  elements(from: readonly XmlParent[], steps: readonly XmlStep[]): readonly XmlParent[] {
    let found = from;
    for (const step of steps) found = found.flatMap((parent) => this.step(parent, step));
    return found;
  }

  /** Every place that a path names, below `from`. */
  targets(from: XmlParent, { steps, attribute }: XmlPath): readonly XmlTarget[] {
    const targets: XmlTarget[] = [];
    for (const element of this.elements([from], steps)) {
      if (element.kind === 'document') continue;
      if (attribute === undefined) targets.push({ kind: 'element', element });
      else {
        const found = this.attribute(element, attribute);
        if (found !== undefined) targets.push({ kind: 'attribute', element, attribute: found });
      }
    }
    return targets;
  }

  /** The one place that a path names: of several the first or last only where the style says so. */
  #only(path: string): XmlTarget | undefined {
    const read = readXmlPath(path);
    if (!('path' in read)) return undefined;
    const targets = this.targets(this.document, read.path);
    if (targets.length > 1 && this.style.duplicates !== 'first' && this.style.duplicates !== 'last') return undefined;
    return targets.at(this.style.duplicates === 'last' ? -1 : 0);
  }

  get(path: string): SyntaxValue | undefined {
    const target = this.#only(path);
    const text = target === undefined ? undefined : this.value(target);
    return text === undefined ? undefined : { kind: 'scalar', text };
  }

  find(path: string): KeyPlace | undefined {
    const target = this.#only(path);
    return target === undefined || this.value(target) === undefined ? undefined : keyPlace(path, target);
  }

  keys(): readonly KeyPlace[] {
    const keys: KeyPlace[] = [];
    const walk = (parent: XmlParent, path: string): void => {
      const children = this.children(parent);
      const counts = new Map<string, number>();
      for (const element of parent.pieces) {
        if (element.kind !== 'element') continue;
        const count = (counts.get(element.name) ?? 0) + 1;
        counts.set(element.name, count);
        const index = children.get(element.name)?.length === 1 ? '' : `[${count}]`;
        const own = `${path}/${element.name}${index}`;
        for (const attribute of element.attributes) {
          if (!attribute.opaque)
            keys.push(keyPlace(`${own}/@${attribute.name}`, { kind: 'attribute', element, attribute }));
        }
        if (this.text(element) !== undefined) keys.push(keyPlace(own, { kind: 'element', element }));
        walk(element, own);
      }
    };
    walk(this.document, '');
    return keys;
  }
}

function keyPlace(path: string, target: XmlTarget): KeyPlace {
  if (target.kind === 'element') {
    const { start, end, openEnd, closeStart } = target.element;
    return { path, span: { start, end }, valueSpan: { start: openEnd, end: closeStart } };
  }
  const { start, end, valueStart, valueEnd } = target.attribute;
  return { path, span: { start, end }, valueSpan: { start: valueStart - 1, end: valueEnd + 1 } };
}
