import { compileDialect } from '../../../src/dialect/compile-dialect.ts';
import type { Context, KeyLookup, Lens, Spelled } from '../../../src/dialect/contract.ts';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import type { DialectDocument } from '../../../src/model/document.ts';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import type { Place } from '../../../src/text/place.ts';
import type { ControlsWritten, DialectWritten, EntryWritten } from '../../../src/vocabulary/shapes/dialect.ts';
import { plainSyntaxes } from './plain-syntaxes.ts';
import { smallContext } from './small-context.ts';

const nowhere: Place = { source: { name: 'dialect.yaml', text: '' }, span: { start: 0, end: 0 } };

/** A dialect as data, every place the same. */
function dataDocument(data: DialectWritten): DialectDocument {
  return { source: nowhere.source, data, place: () => nowhere, keyPlace: () => nowhere };
}

/** A lens over one file with some settings; throws when the dialect has a finding, which a test would overlook. */
export function lensOf(
  settings: Readonly<Record<string, EntryWritten>>,
  controls: ControlsWritten = {},
  changes: Partial<Context> = {},
): Lens {
  const document = dataDocument({
    dialect: 'harrow',
    format: 1,
    version: '1.0.0',
    'for-versions': '>=0',
    role: 'player',
    files: {
      main: { path: '{{root}}/play.conf', syntax: 'pairs' },
      native: { path: '{{root}}/play.json', syntax: 'json' },
    },
    controls,
    settings,
  });
  const { findings } = compileDialect(document);
  if (findings.length > 0) throw new Error(findings.map((finding) => finding.detail).join('\n'));
  return makeLens(smallContext(document, changes), plainSyntaxes).value;
}

export type Held = ReadonlyMap<string, SyntaxValue>;

export function lookIn(held: Held): KeyLookup {
  return (_, key) => held.get(key);
}

/** The keys after a spelling is written over what stood there. */
export function written(spelled: Spelled, before: Held = new Map()): Held {
  const after = new Map(before);
  if (spelled.kind === 'cannot') return after;
  for (const { key, value } of spelled.writes) {
    if (value === undefined) after.delete(key);
    else after.set(key, value);
  }
  return after;
}
