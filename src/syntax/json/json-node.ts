/** A value in a JSON text, with its place: `start` to `end`, brackets and quotes included. */
export type JsonNode = JsonScalar | JsonContainer;

export interface JsonScalar {
  readonly kind: 'scalar';
  readonly start: number;
  readonly end: number;
  /** Escapes decoded; a literal as it is written. */
  readonly text: string;
  /** A number, true, false or null, not a string. */
  readonly literal: boolean;
}

export interface JsonContainer {
  readonly kind: 'object' | 'array';
  readonly start: number;
  end: number;
  readonly entries: JsonEntry[];
  /** End of the last comment inside an empty container, else just after the opening bracket. */
  emptyTail: number;
  emptyTailKind: 'none' | 'block' | 'line';
}

/** A member of an object or an item of an array, with what stands around it. */
export interface JsonEntry {
  /** The member's name, decoded; undefined for an item. */
  readonly name: string | undefined;
  /** Start of the name, or of the item. */
  readonly start: number;
  /** Where the blanks and line ends just before it begin: the end of a bracket, comma or comment. */
  readonly blankStart: number;
  /** End of the name with its quotes; `start` for an item. */
  readonly nameEnd: number;
  readonly value: JsonNode;
  /** Whether a line comment stands just before: its line end must stay. */
  readonly afterLineComment: boolean;
  comma: number | undefined;
  /** End of the comments that follow on the same line, else of the comma, else of the value. */
  tail: number;
  tailIsLineComment: boolean;
}

/** Whether the node is an array that can be told as a list: of scalars only. */
export function isList(node: JsonNode): node is JsonContainer {
  return node.kind === 'array' && node.entries.every((entry) => entry.value.kind === 'scalar');
}
