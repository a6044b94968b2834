import type { Value } from '../../model/value.ts';
import { printQuantity } from '../../vocabulary/units.ts';
import type { FitMaker } from './contract.ts';

/** The word under which a map of values lists a value; undefined where it cannot. */
function wordOf(value: Value): string | undefined {
  switch (value.kind) {
    case 'boolean':
      return String(value.is);
    case 'word':
      return value.word;
    case 'number':
      return String(value.number);
    case 'quantity':
      return printQuantity(value.amount, value.measure);
    case 'text':
      return value.text;
    case 'core':
      return value.core;
    case 'secret':
    case 'control':
    case 'press':
    case 'none':
    case 'place':
    case 'words':
    case 'texts':
    case 'networks':
      return undefined;
  }
}

/** Each value seen with the text it had, and no two alike: the table that always fits, where anything does. */
export const fitValues: FitMaker = (setting, points, others) => {
  const spellings = new Map<string, string>();
  for (const { value, held } of points) {
    const word = wordOf(value);
    if (word === undefined || held.kind === 'list') return [];
    if ((spellings.get(word) ?? held.text) !== held.text) return [];
    spellings.set(word, held.text);
  }
  if (spellings.size === 0 || new Set(spellings.values()).size < spellings.size) return [];
  // The other text of a switch is the other way of it, where the copies show just one.
  if (setting.type.kind === 'boolean' && spellings.size === 1) {
    const [only = '', text = ''] = [...spellings][0] ?? [];
    const rest = new Set(others.flatMap((held) => (held.kind === 'scalar' && held.text !== text ? [held.text] : [])));
    const [other] = rest;
    if (rest.size === 1 && other !== undefined) spellings.set(only === 'true' ? 'false' : 'true', other);
  }
  const order = [...spellings].sort(([a], [b]) => (a === 'true' ? -1 : b === 'true' ? 1 : 0));
  return [{ codec: { values: Object.fromEntries(order) }, kind: 'table', says: 'the texts that were seen' }];
};
