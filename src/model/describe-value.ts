import type { Value } from './value.ts';
import { printQuantity } from '../vocabulary/units.ts';

/** A value in few words, as a profile would write it, for messages: `10 s`, `true`, `select with dpad-left`. */
export function describeValue(value: Value): string {
  switch (value.kind) {
    case 'boolean':
      return String(value.is);
    case 'word':
      return value.word;
    case 'number':
      return String(value.number);
    case 'quantity':
      return printQuantity(Number(value.amount.toPrecision(6)), value.measure);
    case 'text':
      return JSON.stringify(value.text);
    case 'secret':
      return `secret:${value.name}`;
    case 'control':
      return value.position;
    case 'none':
      return 'none';
    case 'place':
      return `${value.part}:${value.folder}`;
    case 'words':
      return value.words.length === 0 ? 'an empty list' : value.words.join(', ');
    case 'texts':
      return value.texts.length === 0 ? 'an empty list' : value.texts.join(', ');
    case 'networks':
      return value.networks.map((network) => network.name).join(', ');
    case 'core':
      return `${value.instance}/${value.core}`;
    case 'press': {
      const { press } = value;
      const what =
        press.kind === 'with-hold'
          ? `hold with ${press.position}`
          : press.kind === 'alone'
            ? `${press.position} alone`
            : press.positions.join(' with ');
      return value.while === 'press' ? what : `${what}, ${value.while}`;
    }
  }
}
