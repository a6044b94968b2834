import type { Context, Lens } from '../../dialect/contract.ts';
import { makeLens } from '../../dialect/make-lens.ts';
import type { DialectDocument } from '../../model/document.ts';
import { syntaxes } from '../../syntax/registry.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { DialectWritten } from '../../vocabulary/shapes/dialect.ts';
import type { ControlsLearnt, LearntFile, Proposal, Series } from '../contract.ts';
import { mergeScopes } from '../write/merge-scopes.ts';
import { writtenFile } from '../write/written-file.ts';
import { holdOf } from './known-values.ts';

/** What was learnt so far, as a dialect is made of it. */
export interface LearntParts {
  readonly proposals: readonly Proposal[];
  readonly controls: ControlsLearnt | undefined;
  readonly files: readonly LearntFile[];
  /** The hold control where the labels tell none. */
  readonly hold: Position | undefined;
}

/** A document of what was learnt that no file holds yet. */
function documentOf(data: DialectWritten): DialectDocument {
  const source = { name: `${data.dialect}.yaml`, text: '' };
  const place = { source, span: { start: 0, end: 0 } };
  return { source, data, place: () => place, keyPlace: () => place };
}

const ownPart = 'copies';
const ownRoot = `${ownPart}:frontend`;

/** The path in a copy of a path that the lens gives. */
export function inCopy(path: string): string {
  return path.slice(ownRoot.length + 1);
}

/** Our own lens of what was learnt, on the device of one series. */
export function replayLens(one: Series, { proposals, controls, files, hold }: LearntParts): Lens {
  const document = documentOf({
    dialect: 'learnt',
    format: 1,
    version: '0.1.0',
    'for-versions': '>=0',
    role: 'player',
    files: Object.fromEntries(files.map((file) => [file.id, writtenFile(file)])),
    ...(controls === undefined ? {} : { controls: controls.section }),
    settings: mergeScopes(proposals),
  });
  const context: Context = {
    dialect: document,
    device: one.device,
    instance: 'learnt',
    root: ownRoot,
    version: undefined,
    // Where the frontend lies on the device says nothing about its spelling, and need not be known.
    parts: new Map([...one.parts, [ownPart, { name: ownPart }]]),
    controls: one.controls ?? { inputs: [], complete: false, controls: new Map() },
    numbering: undefined,
    hold: holdOf(one) ?? hold,
    catalog: one.catalog,
  };
  return makeLens(context, syntaxes).value;
}
