import type { KeyLookup, Lens } from '../dialect/contract.ts';
import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import type { Compiled } from '../model/compiled.ts';
import type { CardFacts } from '../model/card.ts';
import type { CardPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';
import type { Tree } from '../syntax/contract.ts';

/** All that a rule may look at: one device, compiled. Rules read; they never change anything. */
export interface RuleInput {
  readonly resolved: Resolved;
  readonly compiled: Compiled;
  readonly lens: (instance: string) => Lens | undefined;
  /** What stands in the files before us (stock or card). */
  readonly look: KeyLookup;
  /** A file of an instance's dialect as it stands before us; undefined when it is not there or cannot be read. */
  readonly tree: (instance: string, file: string, path: CardPath) => Tree | undefined;
  readonly card: CardFacts | undefined;
}

/** One thing that `check` knows. */
export interface Rule {
  readonly name: string;
  /** The codes that it may raise. */
  readonly codes: readonly Code[];
  check(input: RuleInput): readonly Finding[];
}
