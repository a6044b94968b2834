import { parse, stringify } from 'yaml';
import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { SourceText } from '../text/source-text.ts';

/** Which version of each dialect was taken, by the reference as written; so that a build is the same tomorrow. */
export type Pins = ReadonlyMap<string, { readonly version: string; readonly sha256: string }>;

/** The text of `.thumbwright/lock.yaml`: sorted, so that two builds give the same bytes. */
export function printLock(pins: Pins): string {
  const dialects = [...pins].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  const body = stringify({ lock: 'thumbwright', format: 1, dialects: Object.fromEntries(dialects) }, { lineWidth: 0 });
  return `# Which dialect versions the last build took. Commit it; \`thumbwright build --newest\` takes newer ones.\n${body}`;
}

function textIn(value: unknown, name: string): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const member: unknown = Object.entries(value).find(([key]) => key === name)?.[1];
  return typeof member === 'string' ? member : undefined;
}

/** Errors: `bad-lock`. */
export function readLock(source: SourceText): Outcome<Pins> {
  const pins = new Map<string, { readonly version: string; readonly sha256: string }>();
  const bad = (): Outcome<Pins> => ({
    value: new Map(),
    findings: [
      makeFinding('bad-lock', {
        place: { source, span: { start: 0, end: 0 } },
        detail: 'The lock file is not as this tool writes it (a merge left its marks in it, perhaps).',
        wayOut: 'Remove it and build again, or restore it from your version control.',
      }),
    ],
  });
  let data: unknown;
  try {
    data = parse(source.text, { schema: 'failsafe', maxAliasCount: 0 });
  } catch {
    return bad();
  }
  const dialects: unknown =
    typeof data === 'object' && data !== null
      ? Object.entries(data).find(([key]) => key === 'dialects')?.[1]
      : undefined;
  if (typeof dialects !== 'object' || dialects === null) return bad();
  for (const [reference, pin] of Object.entries(dialects)) {
    const version = textIn(pin, 'version');
    const sha256 = textIn(pin, 'sha256');
    if (version === undefined || sha256 === undefined) return bad();
    pins.set(reference, { version, sha256 });
  }
  return { value: pins, findings: [] };
}
