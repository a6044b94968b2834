import type { XmlAttribute, XmlElement, XmlParent } from './xml-node.ts';
import { newElement } from './new-element.ts';
import type { NewElement } from './new-element.ts';
import type { XmlStep } from './xml-path.ts';
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

  /** New elements by an attribute that they have or had, so that many tests on one are quickly answered. */
  readonly #byAttribute = new Map<XmlParent, Map<string, Set<NewElement>>>();
  readonly #parents = new Map<NewElement, XmlParent>();

  constructor(tree: XmlTree) {
    this.tree = tree;
  }

  /** Elements that a step names below one parent, those to be removed left out, new ones last. */
  step(parent: AnyParent, step: XmlStep): readonly AnyElement[] {
    if (parent.kind === 'new') return matchNew(parent.children, step, 0);
    const there = this.tree.step(parent, step).filter((element) => !this.removed.has(element));
    const added = this.additions.get(parent);
    if (added === undefined) return there;
    const [first] = step.tests;
    if (first?.kind === 'attribute') {
      const named = this.#byAttribute.get(parent)?.get(`${step.name} ${first.name} ${first.value}`) ?? [];
      return [...there, ...matchNew([...named], step, 0)];
    }
    const before = this.tree.children(parent).get(step.name)?.length ?? 0;
    return [
      ...there,
      ...matchNew(
        added.map(({ element }) => element),
        step,
        before,
      ),
    ];
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
    if (parent.kind === 'new') {
      parent.text = undefined;
      parent.children.push(element);
      return;
    }
    this.#parents.set(element, parent);
    for (const [name, value] of element.attributes) this.setNewAttribute(element, name, value);
    const added = this.additions.get(parent);
    if (added === undefined) this.additions.set(parent, [{ element, before }]);
    else added.push({ element, before });
  }

  setNewAttribute(element: NewElement, name: string, value: string): void {
    element.attributes.set(name, value);
    const parent = this.#parents.get(element);
    if (parent === undefined) return;
    const index = this.#byAttribute.get(parent) ?? new Map<string, Set<NewElement>>();
    this.#byAttribute.set(parent, index);
    const key = `${element.name} ${name} ${value}`;
    index.set(key, (index.get(key) ?? new Set()).add(element));
  }

  /** Takes a new element out again. */
  withdraw(parent: AnyParent, element: NewElement): void {
    if (parent.kind === 'new') parent.children.splice(parent.children.indexOf(element), 1);
    else {
      this.#parents.delete(element);
      for (const same of this.#byAttribute.get(parent)?.values() ?? []) same.delete(element);
      this.additions.set(
        parent,
        (this.additions.get(parent) ?? []).filter((addition) => addition.element !== element),
      );
    }
  }
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

function matchNew(children: readonly NewElement[], { name, tests }: XmlStep, before: number): readonly NewElement[] {
  let found = children.filter((child) => child.name === name);
  tests.forEach((test, order) => {
    found = found.filter((child, index) => {
      switch (test.kind) {
        case 'index':
          return order === 0 && index + before + 1 === test.index;
        case 'attribute':
          return child.attributes.get(test.name) === test.value;
        case 'child':
          return child.children.some(
            (inner) => inner.name === test.name && inner.children.length === 0 && (inner.text ?? '') === test.value,
          );
        case 'text':
          return child.children.length === 0 && (child.text ?? '') === test.value;
      }
    });
  });
  return found;
}
