import type { Measure, ValueType } from './types.ts';

const amounts: Readonly<Record<Measure, string>> = {
  time: '10 s',
  size: '64 MiB',
  multiplier: '3 x',
  percent: '20 %',
  rate: '500 / day',
  gain: '-6 dB',
};

/** A value of a type as YAML flow text, good enough to be tried as it stands. */
export function exampleOf(type: ValueType): string {
  switch (type.kind) {
    case 'boolean':
      return 'true';
    case 'word':
      return type.of[0] ?? '';
    case 'number':
      return String(Math.max(type.min ?? 1, 1));
    case 'quantity':
      return type.measure === 'multiplier' && type.max !== undefined ? `${type.max / 2} x` : amounts[type.measure];
    case 'text':
      return type.examples[0] ?? '';
    case 'secret':
      return 'secret:shelf-account';
    case 'control':
      return 'south';
    case 'bind':
      return type.whiles ? '{ control: [trigger-right, east], while: held }' : 'start';
    case 'place':
      return 'games:kept';
    case 'words':
      return `[${type.of.slice(0, 2).join(', ')}]`;
    case 'texts':
      return `[${type.examples.join(', ')}]`;
    case 'networks':
      return '[ { name: Reading Room, password: secret:reading-room } ]';
    case 'cores':
      return '{ burdock: [thrush, harrow-annex/dunnock] }';
    case 'options':
      return '{ dunnock: { palette: warm } }';
    case 'lists':
      return '{ for-rainy-days: [burdock/lantern-walk.zip] }';
  }
}
