import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import type { Compiled } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';
import type { SourceText } from '../text/source-text.ts';

/** All that a rule may look at: one device, compiled. Rules read; they never change anything. */
export interface RuleInput {
  readonly resolved: Resolved;
  readonly compiled: Compiled;
  /** Text of a file before us (stock or card); undefined when none is known. */
  readonly base: (path: CardPath) => SourceText | undefined;
  /** Path of a dialect's file for an instance, at no scope. */
  readonly pathOf: (instance: string, file: string) => CardPath | undefined;
}

/** One thing that `check` knows. */
export interface Rule {
  readonly name: string;
  /** The codes that it may raise. */
  readonly codes: readonly Code[];
  check(input: RuleInput): readonly Finding[];
}
