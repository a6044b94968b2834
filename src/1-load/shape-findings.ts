import * as validators from 'virtual:validators';
import type { SchemaError } from 'virtual:validators';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { Path } from '../model/document.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { FileKind } from './file-kind.ts';
import { valueAt } from '../model/value-at.ts';
import { guideAt, guideOf, memberGuide, memberNames } from './guide-at.ts';
import { makeDocument, pointerPath } from './positions.ts';
import type { Positions } from './positions.ts';
import { kindsOf } from './read-scalar.ts';

type Data = unknown;

/** Path in words: `device.parts.games`. */
function dotted(path: Path): string {
  return path.length === 0 ? 'the top of the file' : path.map(String).join('.');
}

const kindWords: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a mapping',
};

function wantedWords(kinds: ReadonlySet<string>): string {
  const words = [...kinds].flatMap((kind) => kindWords[kind] ?? []);
  return words.length === 0
    ? 'something else'
    : words.length === 1
      ? (words[0] ?? '')
      : `${words.slice(0, -1).join(', ')} or ${words.at(-1) ?? ''}`;
}

function kindOfValue(value: Data): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a mapping';
  return typeof value === 'string' ? 'a text' : typeof value === 'number' ? 'a number' : 'true or false';
}

/** ajv's errors as findings: one for one mistake, at the narrowest place, with the nearest valid name. */
export function shapeFindings(
  source: SourceText,
  kind: FileKind,
  data: Data,
  positions: Positions,
): readonly Finding[] {
  const validate = validators[kind];
  if (validate(data)) return [];
  const errors = [...(validate.errors ?? [])];
  const document = makeDocument(source, data, positions);
  const findings: Finding[] = [];
  const done = new Set<string>();
  // What is below a value of the wrong kind, or follows from a key that is misspelt, is the same mistake.
  const wrongKind = errors.filter((error) => error.keyword === 'type').map((error) => error.instancePath);
  for (const error of errors) {
    if (wrongKind.some((path) => error.instancePath.startsWith(`${path}/`))) continue;
    if (error.keyword === 'enum' && wrongKind.includes(error.instancePath)) continue;
    const path = pathIn(data, error.instancePath);
    const key =
      error.keyword === 'additionalProperties'
        ? `${error.instancePath} ${String(error.params['additionalProperty'])}`
        : `${error.instancePath} ${error.keyword === 'required' ? String(error.params['missingProperty']) : ''}`;
    if (done.has(key)) continue;
    done.add(key);
    const finding = oneFinding(error, path, { source, kind, data, document, errors });
    if (finding !== undefined) findings.push(finding);
  }
  return findings;
}

/** Indices only where the data has a list: a member's name may be all digits. */
function pathIn(data: Data, pointer: string): Path {
  const path: (string | number)[] = [];
  let at = data;
  for (const step of pointerPath(pointer)) {
    const index = Array.isArray(at);
    path.push(index ? Number(step) : String(step));
    at = valueAt(at, [step]);
  }
  return path;
}

interface Around {
  readonly source: SourceText;
  readonly kind: FileKind;
  readonly data: Data;
  readonly document: ReturnType<typeof makeDocument>;
  readonly errors: readonly SchemaError[];
}

function oneFinding(error: SchemaError, path: Path, around: Around): Finding | undefined {
  const { document, data, kind } = around;
  switch (error.keyword) {
    case 'additionalProperties':
      return unknownKey(String(error.params['additionalProperty']), path, around);
    case 'required': {
      const missing = String(error.params['missingProperty']);
      // A misspelt key is told where it stands; that its right name is missing is the same mistake.
      const strangers = around.errors.filter(
        (e) => e.keyword === 'additionalProperties' && e.instancePath === error.instancePath,
      );
      if (strangers.some((e) => nearestNames(String(e.params['additionalProperty']), [missing]).length > 0))
        return undefined;
      return makeFinding('missing-key', {
        place: path.length === 0 ? document.keyPlace([kind]) : document.keyPlace(path),
        detail: `${dotted(path)} needs ${missing}.`,
        wayOut: `Add ${missing}: to it.`,
      });
    }
    case 'type':
      return wrongKind(path, valueAt(data, path), around);
    case 'enum': {
      const allowed = (Array.isArray(error.params['allowedValues']) ? error.params['allowedValues'] : [])
        .filter((word) => word !== null)
        .map(String);
      return unknownWord(path, String(valueAt(data, path)), allowed, around);
    }
    case 'minimum':
    case 'maximum':
    case 'exclusiveMinimum':
    case 'minItems':
    case 'minProperties':
      return makeFinding('out-of-bounds', {
        place: document.place(path),
        detail: `${dotted(path)} must be ${error.keyword === 'maximum' ? 'at most' : error.keyword === 'exclusiveMinimum' ? 'more than' : 'at least'} ${String(error.params['limit'])}${error.keyword.startsWith('minI') || error.keyword.startsWith('minP') ? ' long' : ''}.`,
        wayOut: 'Write a value within the bounds.',
      });
    case 'pattern':
      return makeFinding('wrong-kind-of-value', {
        place: document.place(path),
        detail: `${dotted(path)} does not have the form it needs.`,
        wayOut:
          guideAt(kind, path)?.says === 'name'
            ? 'Write small letters, digits and single hyphens.'
            : `Write it in the form ${String(error.params['pattern'])}.`,
      });
    case 'uniqueItems':
      return makeFinding('duplicate-key', {
        place: document.place([...path, Number(error.params['i'])]),
        related: [{ place: document.place([...path, Number(error.params['j'])]), note: 'the same item' }],
        detail: 'The same item stands twice in this list.',
        wayOut: 'Remove one of the two.',
      });
    default:
      return makeFinding('wrong-kind-of-value', {
        place: document.place(path),
        detail: `${dotted(path)} is not as it must be (${error.keyword}).`,
        wayOut: 'See the schema, or the examples of the demo.',
      });
  }
}

function unknownKey(name: string, path: Path, around: Around): Finding {
  const { document, source, kind, data } = around;
  const place: Place = document.keyPlace([...path, name]);
  const guide = guideAt(kind, path);
  const known = memberNames(guide);
  const there = valueAt(data, path);
  const present = typeof there === 'object' && there !== null ? Object.keys(there) : [];
  const near = nearestNames(name, known);
  const elsewhere = otherLevel(name, path, kind);
  const [best] = near;
  if (best === undefined || (elsewhere !== undefined && known.length > 0 && elsewhere.exact)) {
    if (elsewhere !== undefined) {
      return makeFinding('misplaced-key', {
        place,
        detail: `${dotted(path)} has no ${JSON.stringify(name)}; ${elsewhere.where} does.`,
        wayOut: elsewhere.wayOut,
      });
    }
  }
  const free = best !== undefined && !present.includes(best);
  const written = source.text.slice(place.span.start, place.span.end);
  const hit = nearestNames(name, known, 1);
  return makeFinding('unknown-key', {
    place,
    detail: `${dotted(path)} has no ${JSON.stringify(name)}.`,
    wayOut:
      best !== undefined
        ? `Write ${near.join(' or ')}.`
        : known.length > 0
          ? `Write one of ${known.slice(0, 16).join(', ')}${known.length > 16 ? ', …' : ''}; or remove it.`
          : 'Remove it.',
    ...(best !== undefined && written === name
      ? {
          mend: {
            grade: free && hit.length === 1 ? ('certain' as const) : ('likely' as const),
            source,
            edits: [{ span: place.span, text: best }],
          },
        }
      : {}),
  });
}

/** Whether the name is valid one level up or one level down: then the indent is what is wrong. */
function otherLevel(
  name: string,
  path: Path,
  kind: FileKind,
): { readonly where: string; readonly wayOut: string; readonly exact: boolean } | undefined {
  for (let up = path.length - 1; up >= 0; up--) {
    const above = path.slice(0, up);
    if (memberNames(guideAt(kind, above)).includes(name)) {
      return {
        where: above.length === 0 ? 'the top of the file' : dotted(above),
        wayOut: `Indent it as the members of ${above.length === 0 ? 'the top of the file' : dotted(above)} are.`,
        exact: true,
      };
    }
  }
  const guide = guideAt(kind, path);
  for (const member of memberNames(guide)) {
    const inner = memberGuide(guide, member, guideOf(kind));
    if (memberNames(inner).includes(name))
      return { where: dotted([...path, member]), wayOut: `Indent it under ${member}:.`, exact: true };
  }
  return undefined;
}

function unknownWord(path: Path, word: string, allowed: readonly string[], around: Around): Finding {
  const { document, source } = around;
  const place = document.place(path);
  const near = nearestNames(word, allowed);
  const [best] = near;
  const written = source.text.slice(place.span.start, place.span.end);
  return makeFinding('unknown-word', {
    place,
    detail: `${dotted(path)} knows no ${JSON.stringify(word)}.`,
    wayOut: best === undefined ? `Write one of ${allowed.join(', ')}.` : `Write ${near.join(' or ')}.`,
    ...(best !== undefined && written === word
      ? {
          mend: {
            grade: near.length === 1 ? ('certain' as const) : ('likely' as const),
            source,
            edits: [{ span: place.span, text: best }],
          },
        }
      : {}),
  });
}

function wrongKind(path: Path, value: Data, around: Around): Finding {
  const { document, source, kind } = around;
  const place = document.place(path);
  const kinds = kindsOf(guideAt(kind, path));
  if (kinds.has('boolean') && typeof value === 'string') {
    const meant = /^(yes|on|y)$/i.test(value) ? 'true' : /^(no|off|n)$/i.test(value) ? 'false' : undefined;
    const near = meant ?? nearestNames(value, ['true', 'false'])[0];
    return makeFinding('write-true-or-false', {
      place,
      detail: `${dotted(path)} is switched by true or false; ${JSON.stringify(value)} is neither.`,
      wayOut: near === undefined ? 'Write true or false.' : `Write ${near}.`,
      ...(near === undefined
        ? {}
        : { mend: { grade: 'certain' as const, source, edits: [{ span: place.span, text: near }] } }),
    });
  }
  const nothing = value === null || value === undefined;
  return makeFinding('wrong-kind-of-value', {
    place: nothing ? document.keyPlace(path) : place,
    detail: `${dotted(path)} wants ${wantedWords(kinds)}; ${nothing ? 'nothing stands there' : `here is ${kindOfValue(value)}`}.`,
    wayOut:
      kinds.has('object') && kinds.size <= 2
        ? 'Write its members below it, indented by two blanks; or { } for none.'
        : kinds.has('array') && !kinds.has('string')
          ? 'Write a list: [first, second].'
          : `Write ${wantedWords(kinds)}.`,
  });
}
