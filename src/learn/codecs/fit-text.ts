import type { Value } from '../../model/value.ts';
import type { FitMaker, Point } from './contract.ts';

function textOf(value: Value): string | undefined {
  return value.kind === 'text' ? value.text : value.kind === 'core' ? value.core : undefined;
}

/** What stands before and behind the value in each of its places; undefined: it is not in the text. */
function frames({ value, held }: Point): readonly string[] | undefined {
  const own = textOf(value);
  if (own === undefined || own === '' || held.kind === 'list') return undefined;
  const found: string[] = [];
  for (let at = held.text.indexOf(own); at >= 0; at = held.text.indexOf(own, at + 1))
    found.push(JSON.stringify([held.text.slice(0, at), held.text.slice(at + own.length)]));
  return found;
}

/**
 * The value's own text, with the same text around it in every copy: substring programs with one hole (Gulwani,
 * 'Automating string processing in spreadsheets using input-output examples', 2011).
 */
export const fitText: FitMaker = (setting, points) => {
  if (setting.type.kind !== 'text' && setting.type.kind !== 'cores') return [];
  let common: readonly string[] | undefined;
  for (const point of points) {
    const found = frames(point);
    if (found === undefined) return [];
    common = common === undefined ? found : common.filter((frame) => found.includes(frame));
  }
  const name = setting.type.kind === 'cores' ? 'core.id' : 'value';
  return (common ?? []).flatMap((frame) => {
    const [before = '', behind = ''] = JSON.parse(frame) as readonly string[];
    if (/\{\{|\}\}/.test(before + behind)) return [];
    // Text around it must be seen with two values: once may be chance.
    if (before + behind !== '' && new Set(points.map(({ value }) => textOf(value))).size < 2) return [];
    return [{ codec: { text: `${before}{{${name}}}${behind}` }, kind: 'law', says: 'the value as it is' } as const];
  });
};
