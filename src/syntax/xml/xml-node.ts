/** Character data, markup that is no element, and elements, in file order and without gaps between them. */
export type XmlPiece = XmlElement | XmlData;

export interface XmlData {
  readonly kind: 'text' | 'cdata' | 'comment' | 'instruction' | 'declaration' | 'doctype';
  readonly start: number;
  readonly end: number;
  /** Text only: whether it holds a reference to an entity that is not one of XML's own five. */
  readonly opaque: boolean;
}

export interface XmlAttribute {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  /** Inside the quotes. */
  readonly valueStart: number;
  readonly valueEnd: number;
  readonly opaque: boolean;
}

export interface XmlElement {
  readonly kind: 'element';
  readonly name: string;
  readonly start: number;
  readonly nameEnd: number;
  readonly attributes: readonly XmlAttribute[];
  /** After the `>` of the opening tag. */
  readonly openEnd: number;
  readonly selfClosing: boolean;
  readonly parent: XmlParent;
  /** Its position in `parent.pieces`. */
  readonly index: number;
  readonly pieces: XmlPiece[];
  /** Where `</name>` begins; `openEnd` for a self-closing element. */
  closeStart: number;
  end: number;
}

/** The whole text. It may have several top elements, or none. */
export interface XmlDocument {
  readonly kind: 'document';
  readonly pieces: XmlPiece[];
  /** As the XML declaration names it, upper case. */
  encoding: string | undefined;
}

export type XmlParent = XmlElement | XmlDocument;
