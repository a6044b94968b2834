import type { Value } from '../model/value.ts';
import { printQuantity } from '../vocabulary/units.ts';

/** A value in a few words, as a person would say it: `10 s`, `mode and start together`, `secret:shelf-password`. */
export function valueWords(value: Value): string {
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
    case 'secret':
      return `secret:${value.name}`;
    case 'control':
      return value.position;
    case 'press': {
      const { press } = value;
      const how = value.while === 'press' ? '' : `, ${value.while}`;
      if (press.kind === 'chord') return `${press.positions.join(' and ')} together${how}`;
      return `${press.position}${press.kind === 'alone' ? ' alone' : ''}${how}`;
    }
    case 'none':
      return 'none';
    case 'place':
      return `${value.part}:${value.folder}`;
    case 'words':
      return value.words.join(', ');
    case 'texts':
      return value.texts.join(', ');
    case 'networks':
      return value.networks.map(({ name }) => name).join(', ');
    case 'core':
      return `${value.instance}/${value.core}`;
  }
}
