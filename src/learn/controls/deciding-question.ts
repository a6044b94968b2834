import type { Position } from '../../vocabulary/positions.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { Question } from '../contract.ts';
import { spellings } from './schemes.ts';
import type { Scheme } from './schemes.ts';

/**
 * The one change that parts most of the numberings that are left: the control that they call by most different texts
 * (query selection as in version-space learning: the question that halves the space best).
 */
export function decidingQuestion(left: readonly Scheme[], table: KeyTable): Question | undefined {
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
        ask: `Set a hotkey that does no harm (a screenshot, say) to ${best.position}, and copy again.`,
        settles: ['controls'],
      };
}
