import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Code } from '../../diagnostics/catalogue.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { ChangeResult, SyntaxValue } from '../contract.ts';
import type { NewElement } from './new-element.ts';
import { notXmlValue } from './xml-characters.ts';
import { isBlank } from './xml-layout.ts';
import type { XmlElement } from './xml-node.ts';
import { elementOf } from './xml-overlay.ts';
import type { AnyElement, AnyParent, XmlOverlay } from './xml-overlay.ts';
import type { XmlPath, XmlStep } from './xml-path.ts';

/** Why a change cannot be made, or undefined: it can. */
export type Refusal = Finding | undefined;

/** Puts changes into an overlay, or says why not. */
export class XmlChanger {
  readonly #overlay: XmlOverlay;
  #changed = false;
  #dry = false;
  // Both are told from the text as it was read, once.
  readonly #textHolders = new Map<XmlElement, boolean>();
  #tops: { readonly tops: readonly XmlElement[]; readonly prolog: boolean } | undefined;

  constructor(overlay: XmlOverlay) {
    this.#overlay = overlay;
  }

  result(refusal: Refusal): ChangeResult {
    const changed = this.#changed;
    this.#changed = false;
    if (refusal !== undefined) return { kind: 'refused', finding: refusal };
    return changed ? { kind: 'changed' } : { kind: 'unchanged' };
  }

  finding(code: Code, path: string, why: string, wayOut: string, at?: AnyParent): Finding {
    const { source } = this.#overlay.tree;
    return makeFinding(code, {
      detail: `'${path}' cannot be changed in ${source.name}: ${why}.`,
      wayOut,
      place: { source, span: at?.kind === 'element' ? { start: at.start, end: at.openEnd } : { start: 0, end: 0 } },
    });
  }

  #undetermined(path: string, why: string, at?: AnyParent): Finding {
    return this.finding(
      'key-not-determined',
      path,
      why,
      'Name a key that can be there, or put the part that is missing into the file by hand.',
      at,
    );
  }

  #ambiguous(path: string, count: number, at: AnyParent | undefined): Finding {
    return this.finding(
      'key-ambiguous',
      path,
      `${count} places match it`,
      'Give the path an index, as in [2], or say `duplicates: first` or `duplicates: last` in the style of the file.',
      at,
    );
  }

  /** Of several matches the one that the style names; undefined when it names none. */
  #choose<T>(found: readonly T[]): T | undefined {
    const { duplicates } = this.#overlay.tree.style;
    if (found.length === 1 || duplicates === 'first') return found[0];
    return duplicates === 'last' ? found.at(-1) : undefined;
  }

  #list(path: string): Finding {
    const wayOut = 'Give the items as one text, joined as the program wants them.';
    return this.finding('value-not-carried', path, 'XML has no lists of values', wayOut);
  }

  /** Why XML cannot carry a text that is not there already. */
  #uncarried(path: string, text: string, at: AnyParent): Refusal {
    if (!notXmlValue.test(text)) return undefined;
    const why = 'the value holds a character that XML may not hold';
    return this.finding('value-not-carried', path, why, 'Give a text without it.', at);
  }

  /** Sets one key below `from`. `shown` is the path for messages. `before`: where a new element directly below goes. */
  set(from: AnyParent, path: XmlPath, value: SyntaxValue, shown: string): Refusal {
    if (value.kind === 'list') return this.#list(shown);
    const bad = this.#contradiction(path, value.text, shown);
    if (bad !== undefined) return bad;
    const { steps, attribute } = path;
    let parents: readonly AnyParent[] = [from];
    for (const [index, step] of steps.entries()) {
      const next = parents.flatMap((parent) => this.#overlay.step(parent, step));
      if (next.length === 0) return this.#make(parents, steps.slice(index), attribute, value.text, shown);
      parents = next;
    }
    const elements = parents.filter((parent): parent is AnyElement => parent.kind !== 'document');
    if (attribute !== undefined && elements.length > 1) {
      const holding = elements.filter(
        (element) => this.#overlay.attribute(element, attribute) !== undefined || this.#isOpaque(element, attribute),
      );
      if (holding.length > 0) return this.#write(this.#choose(holding), attribute, value.text, shown, holding);
    }
    return this.#write(this.#choose(elements), attribute, value.text, shown, elements);
  }

  #isOpaque(element: AnyElement, name: string): boolean {
    return element.kind === 'element' && this.#overlay.tree.attribute(element, name)?.opaque === true;
  }

  #write(
    element: AnyElement | undefined,
    attribute: string | undefined,
    text: string,
    shown: string,
    among: readonly AnyElement[],
  ): Refusal {
    if (element === undefined) return this.#ambiguous(shown, among.length, among[1]);
    return attribute === undefined
      ? this.#writeText(element, text, shown)
      : this.#writeAttribute(element, attribute, text, shown);
  }

  #writeText(element: AnyElement, text: string, shown: string): Refusal {
    const now = this.#overlay.text(element);
    if (now === text) return undefined;
    const bad = this.#uncarried(shown, text, element);
    if (bad !== undefined) return bad;
    if (this.#dry && element.kind === 'new') return undefined;
    if (element.kind === 'new') {
      if (element.children.length > 0) return this.#undetermined(shown, 'it has elements of its own');
      this.#overlay.setNewText(element, text);
    } else {
      if (now === undefined && element.pieces.some(({ kind }) => kind === 'element'))
        return this.#undetermined(shown, 'it has elements of its own, which would be lost', element);
      if (now === undefined) return this.#undetermined(shown, 'its text holds an entity that is not expanded', element);
      if (this.#overlay.additions.has(element))
        return this.#undetermined(shown, 'elements are put into it by another change', element);
      if (this.#dry) return undefined;
      this.#overlay.texts.set(element, text);
    }
    this.#changed = true;
    return undefined;
  }

  #writeAttribute(element: AnyElement, name: string, text: string, shown: string): Refusal {
    if (this.#overlay.attribute(element, name) === text) return undefined;
    const bad = this.#uncarried(shown, text, element);
    if (bad !== undefined) return bad;
    if (this.#dry && !this.#isOpaque(element, name)) return undefined;
    if (element.kind === 'new') this.#overlay.setNewAttribute(element, name, text);
    else {
      const there = this.#overlay.tree.attribute(element, name);
      if (there?.opaque === true)
        return this.#undetermined(shown, 'its value holds an entity that is not expanded', element);
      if (there !== undefined) {
        this.#overlay.removedAttributes.delete(there);
        this.#overlay.values.set(there, { owner: element, text });
      } else {
        const added = this.#overlay.attributes.get(element) ?? new Map<string, string>();
        this.#overlay.attributes.set(element, added.set(name, text));
      }
    }
    this.#changed = true;
    return undefined;
  }

  /** A value that would break the path's own tests cannot be found again by the path. */
  #contradiction({ steps, attribute }: XmlPath, text: string, shown: string): Refusal {
    const last = steps.at(-1);
    const over = attribute === undefined ? steps.at(-2) : undefined;
    const breaks =
      last?.tests.some(
        (test) =>
          (attribute === undefined ? test.kind === 'text' : test.kind === 'attribute' && test.name === attribute) &&
          test.kind !== 'index' &&
          test.value !== text,
      ) === true ||
      (last?.tests.length === 0 &&
        over?.tests.some((test) => test.kind === 'child' && test.name === last.name && test.value !== text) === true);
    return breaks ? this.#undetermined(shown, 'the new value would break a test of the path') : undefined;
  }

  #make(
    parents: readonly AnyParent[],
    steps: readonly XmlStep[],
    attribute: string | undefined,
    text: string,
    shown: string,
  ): Refusal {
    const parent = this.#choose(parents);
    if (parent === undefined) return this.#ambiguous(shown, parents.length, parents[1]);
    const blocked = this.#uncarried(shown, text, parent) ?? this.#blocked(parent, steps, attribute, shown);
    if (blocked !== undefined) return blocked;
    if (this.#dry) return undefined;
    const at = this.#build(parent, steps);
    if (at.kind === 'document') return undefined;
    return attribute === undefined
      ? this.#writeText(at, text, shown)
      : this.#writeAttribute(at, attribute, text, shown);
  }

  /** Adds what the steps name, one in the other, and gives the last. */
  #build(parent: AnyParent, steps: readonly XmlStep[]): AnyParent {
    let at = parent;
    for (const step of steps) {
      const added = elementOf(step);
      this.#overlay.add(at, added, undefined);
      at = added;
    }
    this.#changed = true;
    return at;
  }

  /** Puts an element where the steps say, with the parents that are missing. Nothing is put where that is refused. */
  put(
    element: NewElement,
    parentSteps: readonly XmlStep[],
    step: XmlStep,
    before: XmlElement | undefined,
    shown: string,
  ): Refusal {
    let parents: readonly AnyParent[] = [this.#overlay.tree.document];
    let missing: readonly XmlStep[] = [];
    for (const [index, parentStep] of parentSteps.entries()) {
      const next = parents.flatMap((parent) => this.#overlay.step(parent, parentStep));
      if (next.length === 0) {
        missing = parentSteps.slice(index);
        break;
      }
      parents = next;
    }
    const parent = this.#choose(parents);
    if (parent === undefined) return this.#ambiguous(shown, parents.length, parents[1]);
    const blocked = this.#blocked(parent, [...missing, step], '', shown);
    if (blocked !== undefined) return blocked;
    const at = this.#build(parent, missing);
    this.#overlay.add(at, element, before?.parent === at ? before : undefined);
    return undefined;
  }

  /** Why `set` would be refused. */
  check(from: AnyParent, path: XmlPath, value: SyntaxValue, shown: string): Refusal {
    this.#dry = true;
    const refusal = this.set(from, path, value, shown);
    this.#dry = false;
    return refusal;
  }

  /** Why these steps cannot be added below this parent. */
  #blocked(parent: AnyParent, steps: readonly XmlStep[], attribute: string | undefined, shown: string): Refusal {
    const [first] = steps;
    if (first === undefined) return undefined;
    const blocked = this.#blockedParent(parent, first, shown);
    if (blocked !== undefined) return blocked;
    for (const [order, step] of steps.entries()) {
      const bad = step.tests.find(
        ({ value, kind }: { kind: string; value?: string }) => kind !== 'index' && notXmlValue.test(value ?? ''),
      );
      if (bad !== undefined)
        return this.finding(
          'value-not-carried',
          shown,
          'a test holds a character that XML may not hold',
          'Give the test another value.',
        );
      const index = step.tests.find((test) => test.kind === 'index');
      if (index !== undefined) {
        const there = order > 0 ? 0 : this.#overlay.count(parent, step.name);
        if (step.tests[0] !== index || step.tests.length > 1 || index.index !== there + 1)
          return this.#undetermined(shown, `there is no element for the index ${index.index}`, parent);
      }
      const said = new Map<string, string>();
      for (const test of step.tests) {
        if (test.kind === 'index') continue;
        const of = test.kind === 'text' ? '.' : `${test.kind} ${test.name}`;
        const before = said.get(of);
        if (test.kind !== 'child' && before !== undefined && before !== test.value)
          return this.#undetermined(shown, 'its tests contradict each other');
        said.set(of, test.value);
      }
      const goesOn = order < steps.length - 1 || step.tests.some(({ kind }) => kind === 'child');
      if (goesOn && (said.get('.') ?? '') !== '')
        return this.#undetermined(shown, 'a text and elements cannot both stand in a new element');
      if (order === steps.length - 1 && attribute === undefined && step.tests.some(({ kind }) => kind === 'child')) {
        return this.#undetermined(shown, 'a text and elements cannot both stand in a new element');
      }
    }
    return undefined;
  }

  #blockedParent(parent: AnyParent, step: XmlStep, shown: string): Refusal {
    if (parent.kind === 'new')
      return (parent.text ?? '') === ''
        ? undefined
        : this.#undetermined(shown, 'a text stands where an element is due');
    if (parent.kind === 'document') {
      const { tops, prolog } = this.#top();
      const only =
        tops.length === 1 &&
        (prolog || tops[0]?.name !== step.name) &&
        !tops.some((top) => this.#overlay.removed.has(top));
      const added = this.#overlay.additions.get(parent)?.[0];
      const other = tops.length === 0 && added !== undefined && added.element.name !== step.name;
      return only || other
        ? this.#undetermined(
            shown,
            `the file has the one root element '${tops[0]?.name ?? added?.element.name ?? ''}'`,
            tops[0],
          )
        : undefined;
    }
    if (this.#overlay.texts.has(parent))
      return this.#undetermined(shown, 'a text is put there by another change', parent);
    const holds = this.#holdsText(parent);
    return holds ? this.#undetermined(shown, 'a text stands where an element is due', parent) : undefined;
  }

  /** The top elements, and whether something stands there that only a whole document has. */
  #top(): { readonly tops: readonly XmlElement[]; readonly prolog: boolean } {
    const { pieces } = this.#overlay.tree.document;
    return (this.#tops ??= {
      tops: pieces.filter((piece): piece is XmlElement => piece.kind === 'element'),
      prolog: pieces.some(({ kind }) => kind === 'declaration' || kind === 'doctype'),
    });
  }

  /** Whether the text as read has characters, beside blanks where elements are, that no element can stand beside. */
  #holdsText(parent: XmlElement): boolean {
    const known = this.#textHolders.get(parent);
    if (known !== undefined) return known;
    const { tree } = this.#overlay;
    const text = tree.text(parent);
    const holds =
      text === undefined
        ? !parent.pieces.some(({ kind }) => kind === 'element')
        : parent.pieces.some(
            (piece) => piece.kind === 'cdata' || (piece.kind === 'text' && !isBlank(tree.source.text, piece)),
          );
    this.#textHolders.set(parent, holds);
    return holds;
  }

  /** Takes one key out; `from`: where the path begins, an element or the whole. */
  remove(path: XmlPath, shown: string, from: AnyParent = this.#overlay.tree.document): Refusal {
    const overlay = this.#overlay;
    const { steps, attribute } = path;
    const parents = overlay.steps(from, steps.slice(0, -1));
    const step = steps.at(-1);
    if (step === undefined) {
      if (from.kind === 'document') return undefined;
      if (attribute === undefined) return this.#writeText(from, '', shown);
      if (overlay.attribute(from, attribute) !== undefined || this.#isOpaque(from, attribute))
        this.#removeAttribute(from, attribute);
      return undefined;
    }
    const found = parents.flatMap((parent) => overlay.step(parent, step).map((element) => ({ parent, element })));
    const holding =
      attribute === undefined
        ? found
        : found.filter(
            ({ element }) => overlay.attribute(element, attribute) !== undefined || this.#isOpaque(element, attribute),
          );
    if (holding.length > 1 && this.#choose(holding) === undefined)
      return this.#ambiguous(shown, holding.length, holding[1]?.element);
    for (const { parent, element } of holding) {
      if (attribute !== undefined) this.#removeAttribute(element, attribute);
      else {
        const refusal = this.removeElement(parent, element, shown);
        if (refusal !== undefined) return refusal;
      }
    }
    return undefined;
  }

  #removeAttribute(element: AnyElement, name: string): void {
    this.#changed = true;
    if (element.kind === 'new') element.attributes.delete(name);
    else {
      const there = this.#overlay.tree.attribute(element, name);
      if (there !== undefined) this.#overlay.removedAttributes.set(there, element);
      this.#overlay.attributes.get(element)?.delete(name);
    }
  }

  removeElement(parent: AnyParent, element: AnyElement, shown: string): Refusal {
    if (element.kind === 'new') this.#overlay.withdraw(parent, element);
    else {
      const { tops, prolog } = this.#top();
      if (element.parent.kind === 'document' && tops.length === 1 && prolog)
        return this.#undetermined(shown, 'a file cannot be without its root element', element);
      this.#overlay.remove(element);
    }
    this.#changed = true;
    return undefined;
  }
}
