// The parser alone loads a third of what the whole package does. The shapes are those of Handlebars 4.7's
// docs/compiler-api.md ("AST"), as far as they are looked at.
declare module 'handlebars/dist/cjs/handlebars/compiler/base.js' {
  export interface Location {
    /** Lines from 1, columns from 0. */
    readonly start: { readonly line: number; readonly column: number };
  }
  export interface Program {
    readonly type: 'Program';
    readonly body: readonly Statement[];
    readonly blockParams?: readonly string[];
  }
  export interface PathExpression {
    readonly type: 'PathExpression';
    /** `@name`. */
    readonly data: boolean;
    /** Number of `../`. */
    readonly depth: number;
    readonly parts: readonly string[];
    readonly original: string;
    readonly loc: Location;
  }
  export interface OtherExpression {
    readonly type:
      'SubExpression' | 'StringLiteral' | 'NumberLiteral' | 'BooleanLiteral' | 'UndefinedLiteral' | 'NullLiteral';
    readonly loc: Location;
  }
  export type Expression = PathExpression | OtherExpression;
  interface Call {
    readonly path: Expression;
    readonly params: readonly Expression[];
    readonly hash?: { readonly pairs: readonly unknown[] };
    readonly loc: Location;
  }
  export interface MustacheStatement extends Call {
    readonly type: 'MustacheStatement';
    /** False for `{{{` and `{{&`. */
    readonly escaped: boolean;
  }
  export interface BlockStatement extends Call {
    readonly type: 'BlockStatement';
    readonly program?: Program;
    readonly inverse?: Program;
  }
  export interface ContentStatement {
    readonly type: 'ContentStatement';
    readonly value: string;
    readonly loc: Location;
  }
  export interface OtherStatement {
    readonly type: 'CommentStatement' | 'PartialStatement' | 'PartialBlockStatement' | 'Decorator' | 'DecoratorBlock';
    readonly loc: Location;
  }
  export type Statement = MustacheStatement | BlockStatement | ContentStatement | OtherStatement;
  export function parse(text: string): Program;
}
