import { sortEdits } from '../../text/text-edit.ts';
import type { TextEdit } from '../../text/text-edit.ts';
import { otherEncoding } from './decode-bytes-as.ts';
import { writeElement } from './new-element.ts';
import { encodeAttribute, encodeText } from './xml-characters.ts';
import { beginsLine, detectXmlLayout, floorOf, indentOf, isBlank, parting } from './xml-layout.ts';
import type { XmlLayout } from './xml-layout.ts';
import type { XmlElement, XmlParent } from './xml-node.ts';
import type { Addition, XmlOverlay } from './xml-overlay.ts';

/**
 * The edits that an overlay stands for. What is put in and taken out again gives the first text; so the three ways to
 * write an empty element are filled in three ways (see `fill`).
 */
export function editXml(overlay: XmlOverlay): readonly TextEdit[] {
  const { tree, removed } = overlay;
  const layout = detectXmlLayout(tree.source, tree.document, tree.style);
  const editor = new XmlEditor(overlay, layout);
  const parents = new Set<XmlParent>([...overlay.additions.keys(), ...[...removed].map(({ parent }) => parent)]);
  for (const [element, text] of overlay.texts) if (!editor.isGone(element)) editor.setText(element, text);
  for (const [attribute, { owner, text }] of overlay.values) {
    if (!overlay.removedAttributes.has(attribute) && !editor.isGone(owner)) editor.setAttribute(attribute, text);
  }
  editor.attributes();
  // Inner ones first: what fills `<a/>` and what comes after it are put in at one offset.
  const start = (parent: XmlParent): number => (parent.kind === 'document' ? -1 : parent.start);
  for (const parent of [...parents].sort((a, b) => start(b) - start(a)))
    if (parent.kind === 'document' || !editor.isGone(parent)) editor.children(parent);
  return sortEdits(editor.edits);
}

class XmlEditor {
  readonly edits: TextEdit[] = [];
  readonly #overlay: XmlOverlay;
  readonly #layout: XmlLayout;
  readonly #text: string;
  readonly #ascii: boolean;
  readonly #gone = new Map<XmlElement, boolean>();

  constructor(overlay: XmlOverlay, layout: XmlLayout) {
    this.#overlay = overlay;
    this.#layout = layout;
    this.#text = overlay.tree.source.text;
    this.#ascii = otherEncoding(overlay.tree.document.encoding) !== undefined;
  }

  #edit(start: number, end: number, text: string): void {
    if (start !== end || text !== '') this.edits.push({ span: { start, end }, text });
  }

  /** Whether the element, or one around it, is taken out. */
  isGone(element: XmlElement): boolean {
    const path: XmlElement[] = [];
    let gone = false;
    for (let at: XmlParent = element; at.kind === 'element'; at = at.parent) {
      const known = this.#gone.get(at);
      if (known !== undefined || this.#overlay.removed.has(at)) {
        gone = known ?? true;
        path.push(at);
        break;
      }
      path.push(at);
    }
    for (const at of path) this.#gone.set(at, gone);
    return gone;
  }

  setText(element: XmlElement, value: string): void {
    const encoded = encodeText(value, this.#ascii);
    if (element.selfClosing) {
      let slash = element.openEnd - 2;
      while (/[ \t\r\n]/.test(this.#text[slash - 1] ?? '')) slash -= 1;
      this.#edit(slash, element.openEnd, `>${encoded}</${element.name}>`);
      return;
    }
    const pieces = element.pieces.filter(({ kind }) => kind === 'text' || kind === 'cdata');
    const fits = !value.includes(']]>') && !(this.#ascii && /[^\u0000-\u007f]/.test(value)) && !value.includes('\r');
    const holder = (fits ? pieces.find(({ kind }) => kind === 'cdata') : undefined) ?? pieces[0];
    if (holder === undefined) this.#edit(element.openEnd, element.openEnd, encoded);
    for (const piece of pieces) {
      if (piece !== holder) this.#edit(piece.start, piece.end, '');
      else if (piece.kind === 'cdata' && fits) this.#edit(piece.start + 9, piece.end - 3, value);
      else this.#edit(piece.start, piece.end, encoded);
    }
  }

  setAttribute(
    { valueStart, valueEnd }: { readonly valueStart: number; readonly valueEnd: number },
    value: string,
  ): void {
    this.#edit(valueStart, valueEnd, encodeAttribute(value, this.#text[valueEnd] ?? '"', this.#ascii));
  }

  attributes(): void {
    const { removedAttributes, attributes, tree } = this.#overlay;
    for (const element of new Set(removedAttributes.values())) {
      if (this.isGone(element)) continue;
      element.attributes.forEach((attribute, index) => {
        const before = element.attributes[index - 1]?.end ?? element.nameEnd;
        if (removedAttributes.has(attribute)) this.#edit(before, attribute.end, '');
      });
    }
    for (const [element, added] of attributes) {
      if (this.isGone(element)) continue;
      const last = element.attributes.at(-1);
      const before = element.attributes.at(-2)?.end ?? element.nameEnd;
      const blank = last === undefined ? ' ' : tree.source.text.slice(before, last.start);
      const quote = last === undefined ? this.#layout.quote : (this.#text[last.valueEnd] ?? '"');
      const at = last?.end ?? element.nameEnd;
      this.#edit(
        at,
        at,
        [...added]
          .map(([name, value]) => `${blank}${name}=${quote}${encodeAttribute(value, quote, this.#ascii)}${quote}`)
          .join(''),
      );
    }
  }

  /** Elements taken out of one parent and put into it. */
  children(parent: XmlParent): void {
    const { removed, additions } = this.#overlay;
    const added = additions.get(parent) ?? [];
    const there = parent.pieces.filter((piece): piece is XmlElement => piece.kind === 'element');
    if (there.length === 0) return this.#fill(parent, added);
    const gone = there.filter((element) => removed.has(element));
    if (parent.kind === 'element' && added.length === 0 && gone.length === there.length && this.#closesItself(parent)) {
      this.#edit(parent.openEnd - 1, parent.openEnd - 1, '/');
      this.#edit(parent.openEnd, parent.end, '');
      return;
    }
    for (const element of gone) {
      const blank = this.#parting(element);
      // The first of a file has nothing before it: its own line end goes with it.
      const after =
        blank === '' && this.#isFirst(element)
          ? (/^[ \t]*(?:\r\n|[\r\n])/.exec(this.#text.slice(element.end, element.end + 80))?.[0].length ?? 0)
          : 0;
      this.#edit(element.start - blank.length, element.end + after, '');
    }
    // Of one name the last that stays, else the last.
    const models = new Map(there.map((element) => [element.name, element]));
    for (const element of there) if (!removed.has(element)) models.set(element.name, element);
    const after = new Map<XmlElement, string[]>();
    for (const { element, before } of added) {
      const model = before ?? models.get(element.name) ?? there.at(-1);
      if (model === undefined) continue;
      const atFirst = this.#isFirst(model);
      const blank = this.#parting(model);
      const parted = blank === '' && atFirst ? this.#layout.eol : blank;
      const text = writeElement(
        element,
        this.#layout,
        parent.kind === 'document' ? (indentOf(parted) ?? '') : indentOf(parted),
        this.#ascii,
      );
      if (before === undefined) {
        const texts = after.get(model);
        if (texts === undefined) after.set(model, [parted + text]);
        else texts.push(parted + text);
      } else if (blank === '' && atFirst) this.#edit(model.start, model.start, text + parted);
      else this.#edit(model.start - blank.length, model.start - blank.length, blank + text);
    }
    for (const [model, texts] of after) {
      const at = this.#endOfLine(model);
      this.#edit(at, at, texts.join(''));
    }
  }

  #parting(element: XmlElement): string {
    return parting(this.#text, floorOf(element.parent, element.index), element.start);
  }

  #isFirst({ parent, index }: XmlElement): boolean {
    return parent.kind === 'document' && index === 0;
  }

  /** After the element and the comments that follow it on its line. */
  #endOfLine({ parent, index, end }: XmlElement): number {
    let at = end;
    for (let k = index + 1; k < parent.pieces.length; k++) {
      const piece = parent.pieces[k];
      if (piece?.kind === 'comment') at = piece.end;
      else if (piece?.kind !== 'text' || !/^[ \t]*$/.test(this.#text.slice(piece.start, piece.end))) break;
    }
    return at;
  }

  /** Whether what `fill` made of a self-closing element is all that is in it. */
  #closesItself(parent: XmlElement): boolean {
    const { pieces } = parent;
    if (pieces.at(-1)?.kind !== 'element' || pieces[0]?.kind !== 'text') return false;
    return pieces.every((piece, index) => {
      if (piece.kind === 'element') return true;
      const next = pieces[index + 1];
      return (
        next !== undefined &&
        isBlank(this.#text, piece) &&
        parting(this.#text, piece.start, piece.end).length === piece.end - piece.start
      );
    });
  }

  /**
   * The first elements of a parent. `<a/>` gets them on lines of their own with `</a>` after the last; `<a></a>` on its
   * line; one with a line end before `</a>` before that line end. Taken out again, each gives what was there.
   */
  #fill(parent: XmlParent, added: readonly Addition[]): void {
    const { eol, unit, lines } = this.#layout;
    const write = (indent: string | undefined): string[] =>
      added.map(({ element }) => writeElement(element, this.#layout, indent, this.#ascii));
    if (added.length === 0) return;
    if (parent.kind === 'document') {
      const end = this.#text.length;
      const begun = end === 0 || this.#text === '\ufeff' || /[\r\n]$/.test(this.#text);
      this.#edit(end, end, `${begun ? '' : eol}${write('').join(eol)}${eol}`);
      return;
    }
    const { openEnd, closeStart, pieces } = parent;
    const own = parent.parent.kind === 'document' ? (lines ? '' : undefined) : indentOf(this.#parting(parent));
    if (parent.selfClosing) {
      const indent = own === undefined ? undefined : own + unit;
      const blank = indent === undefined ? ' ' : eol + indent;
      this.#edit(openEnd - 2, openEnd - 1, '');
      this.#edit(
        openEnd,
        openEnd,
        `${write(indent)
          .map((text) => blank + text)
          .join('')}</${parent.name}>`,
      );
      return;
    }
    const last = pieces.at(-1);
    const tail = last?.kind === 'text' ? parting(this.#text, last.start, last.end) : '';
    if (beginsLine(tail)) {
      const indent = (indentOf(tail) ?? '') + unit;
      // The line end of the tail itself: another might become one with a bare carriage return before it.
      const lineEnd = /^(?:\r\n|[\r\n])/.exec(tail)?.[0] ?? eol;
      this.#edit(
        closeStart - tail.length,
        closeStart - tail.length,
        write(indent)
          .map((text) => lineEnd + indent + text)
          .join(''),
      );
      return;
    }
    this.#edit(closeStart - tail.length, closeStart - tail.length, write(undefined).join(''));
  }
}
