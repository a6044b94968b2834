import type { KeyLookup, KeyPaths, Lens, RecordLookup } from '../dialect/contract.ts';
import type { CardPath } from '../model/paths.ts';
import type { Instance, ScopePoint } from '../model/resolved.ts';
import type { RecordSyntax, SyntaxValue, Tree } from '../syntax/contract.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { FileWritten } from '../vocabulary/shapes/dialect.ts';

/** A parsed file of the card, and how its repeated elements are read (undefined: its syntax has none). */
export interface CardTree {
  readonly tree: Tree;
  readonly records: RecordSyntax | undefined;
}

/** The card's own text at a path; undefined where there is none. */
export type CardBase = (path: CardPath) => SourceText | undefined;

/** The names of the files in a folder of the card, sorted; none where there is no such folder. */
export type CardFolder = (folder: CardPath) => readonly string[];

/** Parses a file as its dialect says that it is written; undefined where it cannot be read. */
export type ParseCard = (file: FileWritten, source: SourceText) => CardTree | undefined;

/** What stands in a card's files, key by key; each file is parsed once. The card is only read. */
export class CardText {
  readonly #base: CardBase;
  readonly #parse: ParseCard;
  readonly #files = new Map<CardPath, FileWritten>();
  readonly #trees = new Map<CardPath, CardTree | undefined>();
  readonly below: CardFolder;

  constructor(base: CardBase, parse: ParseCard, below: CardFolder = () => []) {
    this.#base = base;
    this.#parse = parse;
    this.below = below;
  }

  /** Tells which files an instance has at some scope points, and in what syntax: those alone can be looked into. */
  know(instance: Instance, lens: Lens, points: Iterable<ScopePoint>): void {
    for (const point of points) {
      for (const [id, file] of Object.entries(instance.dialect.data.files)) {
        const path = lens.path(id, point);
        if (path !== undefined && !this.#files.has(path)) this.#files.set(path, file);
      }
    }
  }

  /** The empty key is the whole text of a file, as the lens asks for what is made from a template. */
  readonly look: KeyLookup = (path, key): SyntaxValue | undefined => {
    if (key !== '') return this.#tree(path)?.tree.get(key);
    const text = this.#base(path)?.text;
    return text === undefined ? undefined : { kind: 'scalar', text };
  };

  /** Where the value of a key stands; undefined where the key does not. */
  place(path: CardPath, key: string): Place | undefined {
    const tree = this.#tree(path)?.tree;
    const found = key === '' ? undefined : tree?.find(key);
    return tree === undefined || found === undefined ? undefined : { source: tree.source, span: found.valueSpan };
  }

  readonly list: RecordLookup = (_, path, at, fields) => {
    const known = this.#tree(path);
    return known?.records?.list(known.tree, at, fields) ?? [];
  };

  readonly keys: KeyPaths = (_, path) =>
    this.#tree(path)
      ?.tree.keys()
      .map((one) => one.path) ?? [];

  #tree(path: CardPath): CardTree | undefined {
    if (!this.#trees.has(path)) {
      const file = this.#files.get(path);
      const source = this.#base(path);
      this.#trees.set(path, file === undefined || source === undefined ? undefined : this.#parse(file, source));
    }
    return this.#trees.get(path);
  }
}
