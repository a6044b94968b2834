import type { CodecsWritten } from '../../vocabulary/shapes/codecs.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { ValueKind } from './value-kind.ts';

/**
 * How the value is spelled, as far as one text tells: a switch's other spelling is its usual partner, a unit is the name's
 * or the text's. Undefined where one text cannot tell (which word of a list a spelling stands for).
 */
export function guessCodec(
  { type }: SettingDefinition,
  value: ValueKind,
  turned: boolean,
  unit: string | undefined,
): CodecsWritten | undefined {
  switch (type.kind) {
    case 'boolean': {
      if (value.kind !== 'switch') return undefined;
      const on = value.on ? value.text : value.other;
      const off = value.on ? value.other : value.text;
      return { values: turned ? { true: off, false: on } : { true: on, false: off } };
    }
    case 'number':
      return { number: {} };
    case 'quantity':
      return unit === undefined ? undefined : { number: { unit } };
    case 'text':
    case 'secret':
      return { text: '{{value}}' };
    case 'place':
      return { path: {} };
    case 'control':
    case 'bind':
      return { control: {} };
    default:
      return undefined;
  }
}
