import type { Document as YamlDocument } from 'yaml';
import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';

interface Told {
  readonly code: Code;
  readonly detail: string;
  readonly wayOut: string;
}

/** What the parser's kinds of error mean to somebody who does not know YAML's grammar. */
const told: Readonly<Record<string, Told>> = {
  TAB_AS_INDENT: {
    code: 'tab-in-indent',
    detail: 'YAML indents with blanks only.',
    wayOut: 'Replace the tab by two blanks.',
  },
  MULTIPLE_DOCS: {
    code: 'two-documents',
    detail: 'A file holds one document.',
    wayOut: 'Move what follows to a file of its own.',
  },
  BAD_INDENT: {
    code: 'yaml-error',
    detail: 'The line is indented less or more than its neighbours.',
    wayOut: 'Align it with the lines it belongs to.',
  },
  MISSING_CHAR: {
    code: 'yaml-error',
    detail: 'A closing quote, bracket, brace or colon is missing.',
    wayOut: 'Add it.',
  },
  UNEXPECTED_TOKEN: {
    code: 'yaml-error',
    detail: 'Something stands here that does not belong.',
    wayOut: 'Put the value in quotes, or remove what is left over.',
  },
  MULTILINE_IMPLICIT_KEY: {
    code: 'yaml-error',
    detail: 'A key goes over several lines: a colon is missing, or the indent is wrong.',
    wayOut: 'Add the colon, or align the line with its neighbours.',
  },
  BLOCK_AS_IMPLICIT_KEY: {
    code: 'yaml-error',
    detail: 'A mapping or list begins on a line that has a value already.',
    wayOut: 'Begin it on a line of its own, indented; or put the value in quotes.',
  },
  BLOCK_IN_FLOW: {
    code: 'yaml-error',
    detail: 'Between brackets or braces, everything is separated by commas.',
    wayOut: 'Add the comma, or close the bracket.',
  },
  KEY_OVER_1024_CHARS: {
    code: 'yaml-error',
    detail: 'A key has more than 1,024 characters: a quote or colon is missing.',
    wayOut: 'Close the quote, or add the colon.',
  },
  BAD_DQ_ESCAPE: {
    code: 'yaml-error',
    detail: 'A backslash in double quotes begins an escape that YAML does not know.',
    wayOut: 'Use single quotes, or double the backslash.',
  },
  BAD_SCALAR_START: {
    code: 'yaml-error',
    detail: 'A plain text cannot begin with this character.',
    wayOut: 'Put the value in quotes.',
  },
  BAD_ALIAS: {
    code: 'unknown-alias',
    detail: 'The alias has no name, or no anchor before it.',
    wayOut: 'Write the value here instead of the alias.',
  },
  TAG_RESOLVE_FAILED: {
    code: 'tag-refused',
    detail: 'A tag asks for a type of its own, and files here are plain data.',
    wayOut: 'Remove the tag (the word that begins with !).',
  },
};

const tooDeep: Told = {
  code: 'too-deep',
  detail: 'Lists or mappings are nested deeper than can be read.',
  wayOut: 'Take the nesting apart; no file of this tool needs it.',
};

function lineAround(text: string, offset: number): { readonly start: number; readonly line: string } {
  const start = Math.max(text.lastIndexOf('\n', offset - 1), text.lastIndexOf('\r', offset - 1)) + 1;
  const rest = text.slice(start).search(/[\r\n]/);
  return { start, line: rest < 0 ? text.slice(start) : text.slice(start, start + rest) };
}

interface IndentedLine {
  readonly start: number;
  readonly indent: number;
  readonly end: number;
}

/** Lines that hold something but a comment, from one offset on, up- or downwards. */
function* contentLines(text: string, offset: number, down: boolean): Generator<IndentedLine> {
  let at = lineAround(text, offset);
  for (;;) {
    const behind = at.start + at.line.length + (text.startsWith('\r\n', at.start + at.line.length) ? 2 : 1);
    const before = at.start - (text.startsWith('\r\n', at.start - 2) ? 2 : 1);
    if (down ? behind > text.length : at.start === 0) return;
    at = lineAround(text, down ? behind : before);
    const body = at.line.trim();
    if (body !== '' && !body.startsWith('#'))
      yield {
        start: at.start + at.line.indexOf(body),
        indent: at.line.indexOf(body),
        end: at.start + at.line.trimEnd().length,
      };
  }
}

/**
 * An indent is wrong against other lines, and the parser stops at one of them: the mistake may be on the line beside it,
 * or on the line with which the block before it begins.
 */
function otherLines(source: SourceText, offset: number, code: string): readonly Place[] {
  const { text } = source;
  const place = ({ start, end }: IndentedLine): Place => ({ source, span: { start, end } });
  if (code === 'BLOCK_AS_IMPLICIT_KEY' || code === 'MULTILINE_IMPLICIT_KEY') {
    const next = contentLines(text, offset, true).next();
    return next.done === true ? [] : [place(next.value)];
  }
  if (code !== 'BAD_INDENT' && code !== 'UNEXPECTED_TOKEN') return [];
  const { line } = lineAround(text, offset);
  const indent = line.search(/\S/);
  const found: IndentedLine[] = [];
  let last: IndentedLine | undefined;
  for (const other of contentLines(text, offset, false)) {
    if (found.length === 0) found.push(other);
    if (other.indent <= indent) {
      found.push(other);
      break;
    }
    last = other;
  }
  if (last !== undefined) found.push(last);
  return [...new Map(found.map((one) => [one.start, place(one)])).values()];
}

/** One finding for one mistake: what the parser says after the first error is mostly about the same one. */
export function yamlErrorFindings(source: SourceText, document: YamlDocument): readonly Finding[] {
  const first = document.errors[0] ?? document.warnings[0];
  if (first === undefined) return [];
  const { text } = source;
  const offset = Math.min(first.pos[0], text.length);
  // The parser often stops behind the mistake, at the start of the next line.
  const places = [offset, Math.max(0, offset - 1)].map((at) => lineAround(text, at));
  for (const { start, line } of places) {
    const braces = /:\s+(\{\{.*)$/.exec(line);
    if (braces !== null) {
      const value = (braces[1] ?? '').replace(/\s+(#.*)?$/, '');
      const from = start + line.indexOf(value, braces.index);
      return [
        makeFinding('unquoted-braces', {
          place: { source, span: { start: from, end: from + value.length } },
          detail: 'YAML takes braces for a mapping, not for a template.',
          wayOut: `Put the value in quotes: '${value}'.`,
          ...(value.includes("'")
            ? {}
            : {
                mend: {
                  grade: 'certain' as const,
                  source,
                  edits: [{ span: { start: from, end: from + value.length }, text: `'${value}'` }],
                },
              }),
        }),
      ];
    }
    const dash = /[:{,]\s+(-)\s*(?=[,}#]|$)/.exec(line);
    if (dash !== null) {
      const from = start + dash.index + dash[0].indexOf('-');
      return [
        makeFinding('unquoted-dash', {
          place: { source, span: { start: from, end: from + 1 } },
          detail: 'A dash by itself begins a list in YAML.',
          wayOut: "Put it in quotes: '-'.",
          mend: { grade: 'certain', source, edits: [{ span: { start: from, end: from + 1 }, text: "'-'" }] },
        }),
      ];
    }
  }
  const known = /call stack/i.test(first.message) ? tooDeep : told[first.code];
  const others = otherLines(source, offset, first.code);
  return [
    makeFinding(known?.code ?? 'yaml-error', {
      place: { source, span: { start: offset, end: Math.min(text.length, Math.max(offset + 1, first.pos[1])) } },
      detail: known?.detail ?? first.message,
      wayOut: known?.wayOut ?? 'Correct the line as YAML 1.2 has it.',
      ...(others.length === 0
        ? {}
        : { related: others.map((place) => ({ place, note: 'or it is this line that is indented wrongly' })) }),
    }),
  ];
}
