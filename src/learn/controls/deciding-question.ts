import type { Position } from '../../vocabulary/positions.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { Question } from '../contract.ts';
import { numberingCases } from './numbering-cases.ts';
import type { Form } from './numbering-cases.ts';
import { spellings } from './schemes.ts';
import type { Scheme } from './schemes.ts';

/**
 * The one change that parts most of the numberings that are left: the control that they call by most different texts
 * (query selection as in version-space learning: the question that halves the space best).
 */
export function decidingQuestion(
  left: readonly Scheme[],
  table: KeyTable,
  hotkey = 'a hotkey that does no harm (a screenshot, say)',
): Question | undefined {
  const [where] = table.observations;
  if (left.length < 2 || where === undefined) return undefined;
  let best: { readonly position: Position; readonly parts: number } | undefined;
  for (const position of where.series.controls?.controls.keys() ?? []) {
    const parts = new Set(left.map((scheme) => spellings(scheme, where, position)[0]?.text ?? '')).size;
    if (parts > 1 && parts > (best?.parts ?? 1)) best = { position, parts };
  }
  return best === undefined
    ? undefined
    : {
        ask: `Set ${hotkey} to ${best.position}, and copy again.`,
        settles: ['controls'],
      };
}

/** Forms as most programs write them: enough to part the numberings, whatever stands around the numbers. */
const bare: ReadonlyMap<Form, string> = new Map([
  ['button', '{{index}}'],
  ['axis', '{{axis}}{{side}}'],
  ['hat', '{{hat}}{{direction}}'],
  ['text', '{{value}}'],
]);

/** Hotkeys that may be tried without harm, best first. */
const harmless = ['screenshot', 'mute', 'show-frame-rate', 'pause'].map((name) => `hotkeys.bind.${name}`);

/** The change that tells most of the numbering where no control was changed yet; `known`: hotkeys whose keys are told. */
export function firstControlQuestion(table: KeyTable, known: ReadonlySet<string>): Question | undefined {
  const series = [...new Set(table.observations.map((one) => one.series))];
  const schemes = numberingCases(series).map((numbering): Scheme => ({ numbering, templates: bare, explains: 0 }));
  return decidingQuestion(
    schemes,
    table,
    harmless.find((id) => known.has(id)),
  );
}
