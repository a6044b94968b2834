import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Span } from '../../text/span.ts';
import type { ChangeResult } from '../contract.ts';

const refused = (finding: Finding): ChangeResult => ({ kind: 'refused', finding });

/** The end of a text: the place of what is not in it. */
export function endOf(source: SourceText): Span {
  return { start: source.text.length, end: source.text.length };
}

/** A value that the format cannot hold. `why` is a whole sentence. */
export function cannotCarry(source: SourceText, path: string, why: string, span: Span): ChangeResult {
  return refused(
    makeFinding('value-not-carried', {
      detail: `The value for ${JSON.stringify(path)} cannot be written. ${why}`,
      wayOut: 'Choose a value without it, or leave this key to be set by hand.',
      place: { source, span },
    }),
  );
}

/** A path that names no key. `why` is a whole sentence. */
export function badPath(source: SourceText, path: string, why: string): ChangeResult {
  return refused(
    makeFinding('bad-key-path', {
      detail: `The key path ${JSON.stringify(path)} cannot be used. ${why}`,
      wayOut: 'Write the key as it stands in the file: `name`, or `[section] name` in a file with sections.',
      place: { source, span: endOf(source) },
    }),
  );
}

/** A key for which there is no place. `why` goes on after 'is not in the file, and'. */
export function notDetermined(source: SourceText, path: string, why: string): ChangeResult {
  return refused(
    makeFinding('key-not-determined', {
      detail: `${JSON.stringify(path)} is not in the file, and ${why}`,
      wayOut: 'Mend the end of the file by hand.',
      place: { source, span: endOf(source) },
    }),
  );
}
