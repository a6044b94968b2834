import type { XmlAttribute, XmlElement, XmlParent } from './xml-node.ts';
import { newElement } from './new-element.ts';
import type { NewElement } from './new-element.ts';
import type { XmlStep, XmlTest } from './xml-path.ts';
import type { XmlTree } from './xml-tree.ts';

/** A parent in the text or one that is to be put into it. */
export type AnyParent = XmlParent | NewElement;
export type AnyElement = XmlElement | NewElement;

/** Where among its siblings a new element goes: before this one, else after the last of its name. */
export interface Addition {
  readonly element: NewElement;
  readonly before: XmlElement | undefined;
}

/** A tree and what is to be changed in it, so that a change sees those before it. */
export class XmlOverlay {
  readonly tree: XmlTree;
  readonly removed = new Set<XmlElement>();
  readonly removedAttributes = new Map<XmlAttribute, XmlElement>();
  readonly texts = new Map<XmlElement, string>();
  readonly values = new Map<XmlAttribute, { readonly owner: XmlElement; readonly text: string }>();
  readonly attributes = new Map<XmlElement, Map<string, string>>();
  readonly additions = new Map<XmlParent, Addition[]>();

  readonly #indexes = new Map<AnyParent, NewElements>();
  readonly #parents = new Map<NewElement, AnyParent>();
  readonly #withdrawn = new Set<NewElement>();
  readonly #removedOf = new Map<XmlParent, Map<string, number>>();

  constructor(tree: XmlTree) {
    this.tree = tree;
  }

  /** Elements that a step names below one parent, those to be removed left out, new ones last. */
  step(parent: AnyParent, step: XmlStep): readonly AnyElement[] {
    const there =
      parent.kind === 'new' ? [] : this.tree.step(parent, step).filter((element) => !this.removed.has(element));
    const added = this.#candidates(parent, step);
    return added.length === 0 ? there : [...there, ...added];
  }

  /** How many elements of one name are below one parent, those to be removed left out. */
  count(parent: AnyParent, name: string): number {
    const added = this.#index(parent)?.named.get(name)?.length ?? 0;
    if (parent.kind === 'new') return added;
    const there = this.tree.children(parent).get(name)?.length ?? 0;
    return there - (this.#removedOf.get(parent)?.get(name) ?? 0) + added;
  }

  /** New elements that a step names. */
  #candidates(parent: AnyParent, { name, tests }: XmlStep): readonly NewElement[] {
    const index = this.#index(parent);
    const [first, ...rest] = tests;
    if (index === undefined) return [];
    const named = index.named.get(name) ?? [];
    if (first === undefined) return named;
    if (first.kind === 'index') {
      const before = parent.kind === 'new' ? 0 : (this.tree.children(parent).get(name)?.length ?? 0);
      const only = named[first.index - before - 1];
      return only !== undefined && rest.every((test) => holds(only, test)) ? [only] : [];
    }
    const found = [...(index.holding.get(keyOf(name, first)) ?? [])];
    return found.filter((element) => !this.#withdrawn.has(element) && tests.every((test) => holds(element, test)));
  }

  /** The index of what is new below a parent; undefined when nothing is. Made when first asked for, kept from then on. */
  #index(parent: AnyParent): NewElements | undefined {
    const known = this.#indexes.get(parent);
    if (known !== undefined) return known;
    const added =
      parent.kind === 'new' ? parent.children : (this.additions.get(parent) ?? []).map(({ element }) => element);
    if (added.length === 0) return undefined;
    const index: NewElements = { named: new Map(), holding: new Map() };
    this.#indexes.set(parent, index);
    for (const element of added) this.#note(index, parent, element);
    return index;
  }

  #note(index: NewElements, parent: AnyParent, element: NewElement): void {
    this.#parents.set(element, parent);
    const same = index.named.get(element.name);
    if (same === undefined) index.named.set(element.name, [element]);
    else same.push(element);
    for (const [name, value] of element.attributes) hold(index, element, { kind: 'attribute', name, value });
    hold(index, element, { kind: 'text', value: element.text ?? '' });
    for (const child of element.children) {
      this.#parents.set(child, element);
      hold(index, element, { kind: 'child', name: child.name, value: child.text ?? '' });
    }
  }

  /** Notes what a new element holds from now on, where its parent has an index. */
  #holdFrom(element: NewElement, test: ValueTest): void {
    const parent = this.#parents.get(element);
    const index = parent === undefined ? undefined : this.#indexes.get(parent);
    if (index !== undefined) hold(index, element, test);
  }

  steps(from: AnyParent, steps: readonly XmlStep[]): readonly AnyParent[] {
    let found: readonly AnyParent[] = [from];
    for (const step of steps) found = found.flatMap((parent) => this.step(parent, step));
    return found;
  }

  text(element: AnyElement): string | undefined {
    if (element.kind === 'new') return element.children.length > 0 ? undefined : (element.text ?? '');
    return this.texts.get(element) ?? this.tree.text(element);
  }

  /** The attribute's value; undefined when it is not there (or has an entity in it). */
  attribute(element: AnyElement, name: string): string | undefined {
    if (element.kind === 'new') return element.attributes.get(name);
    const there = this.tree.attribute(element, name);
    if (there !== undefined && !this.removedAttributes.has(there))
      return this.values.get(there)?.text ?? this.tree.attributeValue(there);
    return this.attributes.get(element)?.get(name);
  }

  add(parent: AnyParent, element: NewElement, before: XmlElement | undefined): void {
    this.#parents.set(element, parent);
    if (parent.kind === 'new') {
      parent.text = undefined;
      parent.children.push(element);
      this.#holdFrom(parent, { kind: 'child', name: element.name, value: element.text ?? '' });
    } else {
      const added = this.additions.get(parent);
      if (added === undefined) this.additions.set(parent, [{ element, before }]);
      else added.push({ element, before });
    }
    const index = this.#indexes.get(parent);
    if (index !== undefined) this.#note(index, parent, element);
  }

  setNewAttribute(element: NewElement, name: string, value: string): void {
    element.attributes.set(name, value);
    this.#holdFrom(element, { kind: 'attribute', name, value });
  }

  setNewText(element: NewElement, value: string): void {
    element.text = value;
    this.#holdFrom(element, { kind: 'text', value });
    const parent = this.#parents.get(element);
    if (parent?.kind === 'new') this.#holdFrom(parent, { kind: 'child', name: element.name, value });
  }

  remove(element: XmlElement): void {
    if (this.removed.has(element)) return;
    this.removed.add(element);
    const counts = this.#removedOf.get(element.parent) ?? new Map<string, number>();
    this.#removedOf.set(element.parent, counts.set(element.name, (counts.get(element.name) ?? 0) + 1));
  }

  /** Takes a new element out again. */
  withdraw(parent: AnyParent, element: NewElement): void {
    this.#withdrawn.add(element);
    const same = this.#indexes.get(parent)?.named.get(element.name) ?? [];
    const at = same.indexOf(element);
    if (at >= 0) same.splice(at, 1);
    if (parent.kind === 'new') parent.children.splice(parent.children.indexOf(element), 1);
    else {
      this.additions.set(
        parent,
        (this.additions.get(parent) ?? []).filter((addition) => addition.element !== element),
      );
    }
  }
}

type ValueTest = Exclude<XmlTest, { kind: 'index' }>;

/** New elements below one parent: by name in order, and by what they hold or held, to be checked again. */
interface NewElements {
  readonly named: Map<string, NewElement[]>;
  readonly holding: Map<string, Set<NewElement>>;
}

function keyOf(element: string, test: ValueTest): string {
  return `${element} ${test.kind} ${test.kind === 'text' ? '' : test.name} ${test.value}`;
}

function hold({ holding }: NewElements, element: NewElement, test: ValueTest): void {
  const key = keyOf(element.name, test);
  const same = holding.get(key);
  if (same === undefined) holding.set(key, new Set([element]));
  else same.add(element);
}

/** A new element with what its step's tests say. The tests have been checked. */
export function elementOf({ name, tests }: XmlStep): NewElement {
  const element = newElement(name);
  for (const test of tests) {
    if (test.kind === 'attribute') element.attributes.set(test.name, test.value);
    else if (test.kind === 'text') element.text = test.value;
    else if (
      test.kind === 'child' &&
      !element.children.some((child) => child.name === test.name && child.text === test.value)
    ) {
      const child = newElement(test.name);
      child.text = test.value;
      element.children.push(child);
    }
  }
  return element;
}

/** Whether a new element passes a test; an index counts only as the first of a step's tests. */
function holds({ attributes, children, text }: NewElement, test: XmlTest): boolean {
  switch (test.kind) {
    case 'index':
      return false;
    case 'attribute':
      return attributes.get(test.name) === test.value;
    case 'child':
      return children.some(
        (child) => child.name === test.name && child.children.length === 0 && (child.text ?? '') === test.value,
      );
    case 'text':
      return children.length === 0 && (text ?? '') === test.value;
  }
}
