import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { SourceText } from '../text/source-text.ts';

/** Longest file that is read, in bytes: stock files and captures too. */
export const longest = 10_000_000;

/** Longest YAML that is parsed, in UTF-16 units: the parser takes seconds for ten times as much, and a profile has some thousands. */
const longestYaml = 1_000_000;

/** Far beyond any profile, and before the parser takes seconds over them. */
const deepestBrackets = 500;
const mostAliases = 5000;

/** Where brackets are nested too deep, quotes not heeded: so many open ones are in no text that people write. */
function tooNested(text: string): number | undefined {
  let depth = 0;
  for (let at = 0; at < text.length; at++) {
    const unit = text.charCodeAt(at);
    if (unit === 0x5b || unit === 0x7b) {
      depth += 1;
      if (depth > deepestBrackets) return at;
    } else if ((unit === 0x5d || unit === 0x7d) && depth > 0) depth -= 1;
  }
  return undefined;
}

/** What no text of ours may hold, before any YAML is looked at. */
export function refuseText(source: SourceText): readonly Finding[] {
  const { text } = source;
  const at = (start: number): Finding['place'] => ({ source, span: { start, end: Math.min(text.length, start + 1) } });
  const tell = (
    code: 'too-large' | 'binary-file' | 'not-utf8' | 'control-character' | 'too-deep' | 'too-many-aliases',
    start: number,
    detail: string,
    wayOut: string,
  ): readonly Finding[] => {
    const place = at(start);
    return [makeFinding(code, { ...(place === undefined ? {} : { place }), detail, wayOut })];
  };
  if (text.length > longestYaml)
    return tell(
      'too-large',
      0,
      `It holds more than ${longestYaml} characters.`,
      'Split it, or see whether it is the file you meant.',
    );
  const nul = text.indexOf('\0');
  if (nul >= 0)
    return tell(
      'binary-file',
      nul,
      'A zero byte stands in it, which no text has.',
      'See whether it is the file you meant; save it as UTF-8 text.',
    );
  const invalid = text.search(/[\udc80-\udcff]/);
  if (invalid > 0 && /[\ud800-\udbff]/.test(text.charAt(invalid - 1))) {
    const lone = /(?<![\ud800-\udbff])[\udc80-\udcff]/.exec(text);
    if (lone !== null)
      return tell('not-utf8', lone.index, 'A byte stands here that is no UTF-8.', 'Save the file as UTF-8.');
  } else if (invalid >= 0)
    return tell('not-utf8', invalid, 'A byte stands here that is no UTF-8.', 'Save the file as UTF-8.');
  const deep = tooNested(text);
  if (deep !== undefined)
    return tell(
      'too-deep',
      deep,
      `Brackets are nested more than ${deepestBrackets} deep.`,
      'Take the nesting apart; no file of this tool needs it.',
    );
  const aliases = /(?:^|[\s,[{:])\*[^\s*]/g;
  for (let count = 0; aliases.exec(text) !== null; count++) {
    if (count < mostAliases) continue;
    return tell(
      'too-many-aliases',
      aliases.lastIndex - 2,
      `The file has more than ${mostAliases} aliases.`,
      'Use fewer aliases, or write out what they stand for where it differs.',
    );
  }
  // YAML 1.2.2 section 5.1: the printable characters.
  const control = text.search(/[\x01-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f]/);
  if (control >= 0)
    return tell(
      'control-character',
      control,
      'A control character stands here, which YAML does not allow as it is.',
      'Remove it, or write it as an escape in double quotes.',
    );
  return [];
}
