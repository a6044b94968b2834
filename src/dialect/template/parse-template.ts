import { parse } from 'handlebars/dist/cjs/handlebars/compiler/base.js';
import type {
  BlockStatement,
  Expression,
  MustacheStatement,
  Program,
} from 'handlebars/dist/cjs/handlebars/compiler/base.js';
import type { Finding, Outcome } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { nearestNames } from '../../diagnostics/nearest.ts';
import type { Place } from '../../text/place.ts';
import { renderTemplate } from './render-template.ts';
import type { AllowedNames, Template, TemplateNode } from './template.ts';

/** Characters of one template. */
const longest = 256 * 1024;
const turns: ReadonlySet<string> = new Set(['@index', '@first', '@last']);
const dangerous: ReadonlySet<string> = new Set([
  'constructor',
  '__proto__',
  'prototype',
  '__defineGetter__',
  '__lookupGetter__',
]);

const cache = new WeakMap<AllowedNames, Map<string, Template>>();

/**
 * Reads a template with Handlebars' own parser and holds it against a closed list of names. What is left can insert
 * `{{name}}` and `{{psk password ssid}}`, choose with `{{#if name}}` and `{{#unless name}}`, and repeat with
 * `{{#each list}}` (`{{this}}`, `{{this.name}}`, `{{@index}}`, `{{@first}}`, `{{@last}}` within). Everything else of
 * the language is refused: other helpers, partials, decorators, `../`, `{{{`, literals, hashes, sub-expressions.
 *
 * `place` is where the text stands. Undefined with findings when it is refused.
 */
export function parseTemplate(place: Place, text: string, allowed: AllowedNames): Outcome<Template | undefined> {
  let known = cache.get(allowed);
  if (known === undefined) cache.set(allowed, (known = new Map<string, Template>()));
  const cached = known.get(text);
  if (cached !== undefined) return { value: cached, findings: [] };
  const checker = new Checker(place, text, allowed);
  const template = checker.run();
  if (template !== undefined) known.set(text, template);
  return { value: template, findings: checker.findings };
}

/** A template of plain text. */
function literal(text: string): Template {
  return { text, names: new Set(), nodes: [{ kind: 'text', text }], render: () => ({ kind: 'text', text }) };
}

class Checker {
  readonly findings: Finding[] = [];
  private readonly names = new Set<string>();
  private readonly place: Place;
  private readonly text: string;
  private readonly allowed: AllowedNames;

  constructor(place: Place, text: string, allowed: AllowedNames) {
    this.place = place;
    this.text = text;
    this.allowed = allowed;
  }

  run(): Template | undefined {
    if (!this.text.includes('{{')) return literal(this.text);
    if (this.text.length > longest) {
      this.fault('bad-template', this.text.slice(0, 20), 'It is longer than 256 KiB.', 'Shorten the template.');
      return undefined;
    }
    let program: Program;
    try {
      program = parse(this.text);
    } catch (error) {
      this.fault(
        'bad-template',
        '{{',
        `Handlebars cannot read it: ${reasonOf(error)}.`,
        'Write each name as {{name}}, and close each block that is opened.',
      );
      return undefined;
    }
    const nodes = this.program(program, undefined, 0);
    if (this.findings.length > 0) return undefined;
    return {
      text: this.text,
      names: this.names,
      nodes,
      render: (names, escape) => renderTemplate(nodes, names, escape),
    };
  }

  private fault(
    code: 'bad-template' | 'template-not-allowed' | 'unknown-template-name',
    at: string,
    detail: string,
    wayOut: string,
  ): void {
    this.findings.push(makeFinding(code, { place: narrow(this.place, at), detail, wayOut }));
  }

  private refuse(at: string, what: string): void {
    this.fault(
      'template-not-allowed',
      at,
      `${what}. Dialects come from strangers, so a template can insert names, choose with if and unless, repeat with each, and no more.`,
      'Use a name of the closed list, or say it with another codec.',
    );
  }

  private program(
    program: Program | undefined,
    item: ReadonlySet<string> | undefined,
    depth: number,
  ): readonly TemplateNode[] {
    if (program === undefined) return [];
    const nodes: TemplateNode[] = [];
    if (program.blockParams !== undefined && program.blockParams.length > 0)
      this.refuse('as |', 'Block parameters (as |name|) are not allowed');
    if (depth > 8) {
      this.refuse('{{#', 'Blocks more than eight deep are not allowed');
      return [];
    }
    for (const statement of program.body) {
      switch (statement.type) {
        case 'ContentStatement':
          nodes.push({ kind: 'text', text: statement.value });
          break;
        case 'CommentStatement':
          break;
        case 'MustacheStatement':
          nodes.push(...this.mustache(statement, item));
          break;
        case 'BlockStatement':
          nodes.push(...this.block(statement, item, depth));
          break;
        case 'PartialStatement':
        case 'PartialBlockStatement':
          this.refuse('>', 'Partials ({{> name}}) read other files and are not allowed');
          break;
        case 'Decorator':
        case 'DecoratorBlock':
          this.refuse('*', 'Decorators ({{* name}}) are not allowed');
          break;
      }
    }
    return nodes;
  }

  private mustache(statement: MustacheStatement, item: ReadonlySet<string> | undefined): readonly TemplateNode[] {
    const { path } = statement;
    const called = path.type === 'PathExpression' ? path.original : '{{';
    if (!statement.escaped) {
      this.refuse(called, '{{{ and {{& insert without escaping and are not allowed');
      return [];
    }
    if (statement.hash !== undefined) {
      this.refuse(called, 'name=value arguments are not allowed');
      return [];
    }
    if (statement.params.length === 0) {
      const name = this.name(path, item, 'value');
      return name === undefined ? [] : [{ kind: 'insert', name }];
    }
    if (path.type === 'PathExpression' && path.original === 'psk') {
      const [first, second] = statement.params;
      if (first === undefined || second === undefined || statement.params.length !== 2) {
        this.refuse('psk', 'psk takes two names, the password and the network: {{psk item.password item.ssid}}');
        return [];
      }
      const password = this.name(first, item, 'value');
      const ssid = this.name(second, item, 'value');
      return password === undefined || ssid === undefined ? [] : [{ kind: 'psk', password, ssid }];
    }
    this.refuse(called, `${JSON.stringify(called)} is called like a helper; psk is the only one`);
    return [];
  }

  private block(
    statement: BlockStatement,
    item: ReadonlySet<string> | undefined,
    depth: number,
  ): readonly TemplateNode[] {
    const word = statement.path.type === 'PathExpression' ? statement.path.original : '';
    const [argument] = statement.params;
    if (word !== 'if' && word !== 'unless' && word !== 'each') {
      this.refuse(word === '' ? '{{#' : word, `${JSON.stringify(word)} is no block; if, unless and each are`);
      return [];
    }
    if (argument === undefined || statement.params.length !== 1 || statement.hash !== undefined) {
      this.refuse(word, `${word} takes one name and nothing else`);
      return [];
    }
    if (word === 'each') {
      const name = this.name(argument, item, 'list');
      const members = name === undefined ? new Set<string>() : this.allowed.lists.get(name);
      const body = this.program(statement.program, members, depth + 1);
      const otherwise = this.program(statement.inverse, item, depth + 1);
      return name === undefined ? [] : [{ kind: 'each', name, body, otherwise }];
    }
    const name = this.name(argument, item, 'either');
    const program = this.program(statement.program, item, depth + 1);
    const inverse = this.program(statement.inverse, item, depth + 1);
    if (name === undefined) return [];
    const [then, otherwise] = word === 'if' ? [program, inverse] : [inverse, program];
    return [{ kind: 'if', name, then, otherwise }];
  }

  /** The canonical name (`values.saves.state-on-exit`), or a finding. `item`: names within the turn of an `each`. */
  private name(
    expression: Expression,
    item: ReadonlySet<string> | undefined,
    wanted: 'value' | 'list' | 'either',
  ): string | undefined {
    if (expression.type !== 'PathExpression') {
      this.refuse('{{', 'Literals and sub-expressions are not allowed; only names are');
      return undefined;
    }
    const { original, parts } = expression;
    if (expression.depth > 0 || /(^|[^[])\.\.?\//.test(original)) {
      this.refuse(original, `${JSON.stringify(original)} reaches outside its block; names are always written whole`);
      return undefined;
    }
    if (parts.some((part) => dangerous.has(part))) {
      this.refuse(original, `${JSON.stringify(original)} names an internal of the language`);
      return undefined;
    }
    const whole = /^this\b/.test(original)
      ? ['this', ...parts].join('.')
      : `${expression.data ? '@' : ''}${parts.join('.')}`;
    const { values, lists } = this.allowed;
    const isValue =
      item !== undefined && (whole === 'this' || whole.startsWith('this.') || turns.has(whole))
        ? turns.has(whole) || item.has(whole)
        : values.has(whole);
    const isList = lists.has(whole);
    if ((wanted !== 'list' && isValue) || (wanted !== 'value' && isList)) {
      this.names.add(whole);
      return whole;
    }
    if (wanted === 'value' && isList) {
      this.fault(
        'unknown-template-name',
        original,
        `${JSON.stringify(original)} is a list, and a list cannot be inserted as it is.`,
        `Write {{#each ${original}}}{{this}}{{/each}}.`,
      );
      return undefined;
    }
    const near = nearestNames(whole, [
      ...(wanted === 'list' ? [] : [...values, ...(item ?? [])]),
      ...(wanted === 'value' ? [] : lists.keys()),
    ]);
    this.fault(
      'unknown-template-name',
      original,
      `${JSON.stringify(original)} is not among the names that a template may use here.`,
      near.length > 0
        ? `Write ${near.join(' or ')}.`
        : `Use one of ${[...(wanted === 'list' ? lists.keys() : values)].slice(0, 12).join(', ')}.`,
    );
    return undefined;
  }
}

/** The place of a fragment within a place, where it can be found in the source as it is; else the whole place. */
function narrow(place: Place, fragment: string): Place {
  const { source, span } = place;
  const at = source.text.slice(span.start, span.end).indexOf(fragment);
  if (at < 0 || fragment === '') return place;
  return { source, span: { start: span.start + at, end: span.start + at + fragment.length } };
}

/** Handlebars' message without its drawing, in words. */
function reasonOf(error: unknown): string {
  if (error instanceof RangeError || !(error instanceof Error)) return 'it is nested too deeply';
  const got = /got '([A-Z_]+)'/.exec(error.message)?.[1];
  switch (got) {
    case 'EOF':
      return 'it ends before a {{ or a block is closed';
    case 'CLOSE':
      return 'nothing stands between {{ and }}';
    case 'INVALID':
      return 'a name holds a character that names cannot hold';
    case 'OPEN_ENDBLOCK':
      return 'a block is closed that was not opened';
    default: {
      const [first = ''] = error.message.split('\n');
      return got === undefined
        ? first.replace(/[^\x20-\x7e]/g, '?').slice(0, 120)
        : 'something stands where it does not belong';
    }
  }
}
