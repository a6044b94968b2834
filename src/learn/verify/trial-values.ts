import type { Value } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Measure, SettingDefinition } from '../../vocabulary/types.ts';

/** Amounts in base units that menus offer, small and large: a wrong unit or scale shows in one of them. */
const amounts: Readonly<Record<Measure, readonly number[]>> = {
  time: [0, 500, 1000, 10_000, 60_000, 600_000],
  size: [1024 ** 2, 16 * 1024 ** 2, 512 * 1024 ** 2],
  multiplier: [0.5, 1, 2, 3, 4],
  percent: [0, 10, 50, 100],
  rate: [10, 500],
  gain: [-12, -3, 0],
};

function within(least: number | undefined, most: number | undefined): (value: number) => boolean {
  return (value) => value >= (least ?? -Infinity) && value <= (most ?? Infinity);
}

/** Values to set a setting to one after the other; empty where it is not a matter of one key's text. */
export function trialValues({ type }: SettingDefinition, has: readonly Position[]): readonly Value[] {
  switch (type.kind) {
    case 'boolean':
      return [true, false].map((is) => ({ kind: 'boolean', is }));
    case 'word':
      return type.of.map((word) => ({ kind: 'word', word }));
    case 'number':
      return [0, 1, 2, 5, 10].filter(within(type.min, type.max)).map((number) => ({ kind: 'number', number }));
    case 'quantity': {
      const { measure } = type;
      const words = (type.words ?? []).map((word): Value => ({ kind: 'word', word }));
      const some = amounts[measure].filter(within(type.min, type.max));
      return [...words, ...some.map((amount): Value => ({ kind: 'quantity', measure, amount }))];
    }
    case 'text':
      return type.examples.map((text) => ({ kind: 'text', text }));
    case 'control':
      return has.map((position) => ({ kind: 'control', position }));
    case 'bind': {
      const ways = type.whiles ? (['held', 'toggled'] as const) : (['press'] as const);
      return [
        { kind: 'none' },
        ...ways.flatMap((way) =>
          has.map((position): Value => ({ kind: 'press', press: { kind: 'with-hold', position }, while: way })),
        ),
      ];
    }
    case 'words':
      return [...type.of.map((word) => [word]), [...type.of]].map((words) => ({ kind: 'words', words }));
    case 'texts':
      return type.of === 'language' || type.of === 'text' ? [{ kind: 'texts', texts: type.examples }] : [];
    case 'secret':
    case 'place':
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return [];
  }
}
