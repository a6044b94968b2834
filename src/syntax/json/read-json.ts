import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { JsonContainer, JsonEntry, JsonNode } from './json-node.ts';
import { jsonTokens, token } from './json-token.ts';

/** Deeper texts are refused: no configuration is so deep, and readers recurse. */
export const deepestJson = 2000;

export interface JsonRead {
  /** Undefined for a text without content, and when there are findings. */
  readonly root: JsonNode | undefined;
  readonly findings: readonly Finding[];
  /** Where comments before the root end; where text of ours goes in a text without content. */
  readonly head: number;
}

type Expected = 'value' | 'value-or-end' | 'name' | 'name-or-end' | 'colon' | 'comma-or-end' | 'nothing';

const said: Record<Expected, string> = {
  value: 'a value',
  'value-or-end': "a value or ']'",
  name: 'a member name in double quotes',
  'name-or-end': "a member name in double quotes or '}'",
  colon: "':'",
  'comma-or-end': 'a comma or the closing bracket',
  nothing: 'the end of the text',
};

/**
 * Reads RFC 8259 text with the place of everything; comments and trailing commas unless `relaxed` is false.
 * Scanned by jsonc-parser; its parser is not used, since it recurses (a deep text overflows the stack) and keeps
 * neither commas nor comments. A mistake gives one finding, the first in the text.
 */
export function readJson(source: SourceText, relaxed: boolean | undefined): JsonRead {
  const { text } = source;
  const open: { readonly container: JsonContainer; name: { text: string; start: number; end: number } | undefined }[] =
    [];
  let root: JsonNode | undefined;
  let expected: Expected = 'value';
  let last: JsonEntry | undefined;
  let lineBreakSince = false;
  let afterLineComment = false;
  let entryAfterLineComment = false;
  let tokenEnd = 0;
  let blankStart = 0;
  let head = text.startsWith('\ufeff') ? 1 : 0;

  const fail = (what: string, start: number, end: number, wayOut?: string): JsonRead => ({
    root: undefined,
    head,
    findings: [
      makeFinding('json-unreadable', {
        detail: `${source.name} is not JSON that can be read: ${what}. It is left as it is.`,
        wayOut: wayOut ?? 'Mend the text at the place shown, then run the command again.',
        place: { source, span: { start, end: Math.max(end, start) } },
      }),
    ],
  });

  const place = (node: JsonNode): void => {
    const top = open.at(-1);
    if (top === undefined) {
      root = node;
      return;
    }
    const entry: JsonEntry = {
      name: top.name?.text,
      start: top.name?.start ?? node.start,
      blankStart,
      nameEnd: top.name?.end ?? node.start,
      value: node,
      afterLineComment: entryAfterLineComment,
      comma: undefined,
      tail: node.end,
      tailIsLineComment: false,
    };
    top.container.entries.push(entry);
  };
  const ended = (node: JsonNode): Expected => {
    const entry = open.at(-1)?.container.entries.at(-1);
    if (entry !== undefined) entry.tail = node.end;
    last = entry;
    lineBreakSince = false;
    return open.length === 0 ? 'nothing' : 'comma-or-end';
  };

  for (const { kind, start, end, text: tokenText, mistake } of jsonTokens(text, head)) {
    if (mistake !== undefined) return fail(mistake, start, end);
    const previousEnd = tokenEnd;
    if (kind !== token.blank && kind !== token.lineBreak) tokenEnd = end;
    switch (kind) {
      case token.blank:
        continue;
      case token.lineBreak:
        lineBreakSince = true;
        continue;
      case token.lineComment:
      case token.blockComment: {
        if (relaxed === false) {
          return fail(
            'it holds a comment, and this file may have none',
            start,
            end,
            'Take the comment out, or say `relaxed: true` in the style of the file.',
          );
        }
        const isLine = kind === token.lineComment;
        afterLineComment = isLine;
        const container = open.at(-1)?.container;
        if (root === undefined && container === undefined) head = end;
        if (last !== undefined && !lineBreakSince) {
          last.tail = end;
          last.tailIsLineComment = isLine;
        } else if (container !== undefined && container.entries.length === 0) {
          container.emptyTail = end;
          container.emptyTailKind = isLine ? 'line' : 'block';
        }
        continue;
      }
      case token.end: {
        const top = open.at(-1);
        if (top === undefined && (expected === 'nothing' || root === undefined)) return { root, findings: [], head };
        const bracket = top?.container.start ?? 0;
        return fail(
          `the text ends where ${said[expected]} is due, and the bracket shown is not closed`,
          bracket,
          bracket + 1,
        );
      }
      case token.string:
        if (expected === 'name' || expected === 'name-or-end') {
          const top = open.at(-1);
          if (top !== undefined) top.name = { text: tokenText, start, end };
          entryAfterLineComment = afterLineComment;
          blankStart = previousEnd;
          afterLineComment = false;
          lineBreakSince = true;
          expected = 'colon';
          continue;
        }
        break;
      case token.colon:
        if (expected !== 'colon') return fail(`':' stands where ${said[expected]} is due`, start, end);
        expected = 'value';
        continue;
      case token.comma:
        if (expected !== 'comma-or-end' || last === undefined)
          return fail(`',' stands where ${said[expected]} is due`, start, end);
        last.comma = start;
        last.tail = end;
        last.tailIsLineComment = false;
        lineBreakSince = false;
        afterLineComment = false;
        expected = open.at(-1)?.container.kind === 'object' ? 'name' : 'value';
        continue;
      case token.closeBrace:
      case token.closeBracket: {
        const top = open.at(-1);
        const closes = kind === token.closeBrace ? 'object' : 'array';
        const trailing = last?.comma !== undefined && (expected === 'name' || expected === 'value');
        if (
          top === undefined ||
          top.container.kind !== closes ||
          expected === 'colon' ||
          (expected === 'value' && !trailing)
        ) {
          return fail(`'${text.slice(start, end)}' stands where ${said[expected]} is due`, start, end);
        }
        if (trailing && relaxed === false) {
          return fail(
            'a comma stands before a closing bracket, and this file may have none there',
            last?.comma ?? start,
            end,
            'Take the comma out, or say `relaxed: true` in the style of the file.',
          );
        }
        open.pop();
        top.container.end = end;
        afterLineComment = false;
        expected = ended(top.container);
        continue;
      }
      default:
        break;
    }
    // A value begins.
    if (expected !== 'value' && expected !== 'value-or-end') {
      const what = kind === token.unknown ? 'something that is no JSON' : 'a value';
      return fail(`${what} stands where ${said[expected]} is due`, start, end);
    }
    if (open.at(-1)?.container.kind !== 'object') {
      entryAfterLineComment = afterLineComment;
      blankStart = previousEnd;
    }
    afterLineComment = false;
    if (kind === token.openBrace || kind === token.openBracket) {
      if (open.length >= deepestJson) {
        return {
          root: undefined,
          head,
          findings: [
            makeFinding('nested-too-deep', {
              detail: `${source.name} is nested deeper than ${deepestJson} levels. It is left as it is.`,
              wayOut: 'Check that the file is the one you meant; a configuration is never so deep.',
              place: { source, span: { start, end } },
            }),
          ],
        };
      }
      const object = kind === token.openBrace;
      const container: JsonContainer = {
        kind: object ? 'object' : 'array',
        start,
        end,
        entries: [],
        emptyTail: end,
        emptyTailKind: 'none',
      };
      place(container);
      open.push({ container, name: undefined });
      last = undefined;
      lineBreakSince = false;
      expected = object ? 'name-or-end' : 'value-or-end';
      continue;
    }
    if (kind === token.unknown) {
      return fail(
        'something that is neither a string, a number, true, false nor null stands where a value is due',
        start,
        end,
      );
    }
    const node: JsonNode = { kind: 'scalar', start, end, text: tokenText, literal: kind !== token.string };
    place(node);
    expected = ended(node);
  }
  throw new Error('The tokens of a JSON text ended without an end. This is a bug in thumbwright.');
}
