import { encodeAttribute, encodeText } from './xml-characters.ts';
import type { XmlLayout } from './xml-layout.ts';

/** An element that is not in the text yet. With children it has no text. */
export interface NewElement {
  readonly kind: 'new';
  readonly name: string;
  readonly attributes: Map<string, string>;
  readonly children: NewElement[];
  text: string | undefined;
}

export function newElement(name: string): NewElement {
  return { kind: 'new', name, attributes: new Map(), children: [], text: undefined };
}

/** @param indent of the line on which it begins; undefined writes it on one line. @param ascii see `encodeText`. */
export function writeElement(
  element: NewElement,
  layout: XmlLayout,
  indent: string | undefined,
  ascii: boolean,
): string {
  const { quote, eol, unit, emptyEnd } = layout;
  const attributes = [...element.attributes].map(
    ([name, value]) => ` ${name}=${quote}${encodeAttribute(value, quote, ascii)}${quote}`,
  );
  const open = `<${element.name}${attributes.join('')}`;
  if (element.children.length > 0) {
    const inner = indent === undefined ? undefined : indent + unit;
    const children = element.children.map(
      (child) => (inner === undefined ? '' : eol + inner) + writeElement(child, layout, inner, ascii),
    );
    return `${open}>${children.join('')}${indent === undefined ? '' : eol + indent}</${element.name}>`;
  }
  const text = encodeText(element.text ?? '', ascii);
  return text === '' ? open + emptyEnd : `${open}>${text}</${element.name}>`;
}
