import type { Value } from '../../model/value.ts';
import { printQuantity } from '../../vocabulary/units.ts';
import type { Context } from '../contract.ts';

/** The words under which a dialect may list a value, most telling first. */
export function valueWords(value: Value, context: Context): readonly string[] {
  switch (value.kind) {
    case 'boolean':
      return [String(value.is)];
    case 'word':
      return [value.word];
    case 'number':
      return [String(value.number)];
    case 'quantity':
      return [printQuantity(value.amount, value.measure)];
    case 'text':
      return [value.text];
    case 'control':
      return [value.position];
    case 'none':
      return ['none'];
    case 'press':
      return [value.while];
    case 'core': {
      const dialect = context.instances?.get(value.instance)?.dialect;
      const qualified = [
        `${value.instance}/${value.core}`,
        ...(dialect === undefined ? [] : [`${dialect}/${value.core}`]),
      ];
      return value.instance === context.instance ? [...qualified, value.core] : qualified;
    }
    case 'place':
      return [`${value.part}:${value.folder}`];
    case 'words':
      return value.words.length === 1 ? value.words : [];
    case 'texts':
      return value.texts.length === 1 ? value.texts : [];
    case 'secret':
    case 'networks':
      return [];
  }
}
