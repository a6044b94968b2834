import type { Span } from '../../text/span.ts';

/** How a scalar stands in the text. `empty`: nothing stands there, and the value is null. */
export type YamlStyle = 'plain' | 'single' | 'double' | 'literal' | 'folded' | 'empty';

interface YamlBase {
  /** From the value's first character to its last; tags, anchors and line ends are outside. */
  readonly span: Span;
  /** An anchor that an alias after it names: a change inside would change all its places. */
  shared: boolean;
  /** The tag before the value, with the blanks up to the value. */
  readonly tag: YamlTag | undefined;
}

export interface YamlTag {
  readonly span: Span;
  /** Not one of YAML 1.2's own tags: a program gives it its own meaning. */
  readonly own: boolean;
}

/** `literal`: null, a boolean or a number; `text` is then as written (`null` where nothing is written). */
export interface YamlScalar extends YamlBase {
  readonly kind: 'scalar';
  readonly style: YamlStyle;
  readonly text: string;
  readonly literal: boolean;
}

export interface YamlAlias extends YamlBase {
  readonly kind: 'alias';
  readonly target: YamlNode;
}

export interface YamlMap extends YamlBase {
  readonly kind: 'map';
  /** `bare`: the one pair of `[a: b]`, a flow mapping without braces. */
  readonly layout: 'block' | 'flow' | 'bare';
  readonly pairs: YamlPair[];
  /** By name. `undefined` when several keys have the name. */
  readonly members: Map<string, YamlPair | undefined>;
}

export interface YamlPair {
  /** Undefined for a key that is no scalar: no path names it. */
  readonly name: string | undefined;
  readonly keySpan: Span;
  /** From the key (or its `?`) to the end of the value. */
  readonly span: Span;
  /** After the colon, and after a tag or anchor that follows it: where a value goes when none is there. */
  readonly hole: Hole;
  readonly value: YamlNode;
  readonly index: number;
}

export interface YamlSeq extends YamlBase {
  readonly kind: 'seq';
  readonly layout: 'block' | 'flow';
  readonly items: YamlItem[];
}

export interface YamlItem {
  /** From the dash, or from the value in a flow sequence, to the end of the value. */
  readonly span: Span;
  readonly hole: Hole;
  readonly value: YamlNode;
}

/** `colon`: false when not even the colon is there. */
export interface Hole {
  readonly at: number;
  readonly colon: boolean;
}

export type YamlNode = YamlScalar | YamlAlias | YamlMap | YamlSeq;

export interface YamlDocument {
  /** Undefined when the text has no value at all. */
  readonly root: YamlNode | undefined;
  /** Where the first line of an empty document goes. */
  readonly rootAt: number;
  readonly several: boolean;
}
