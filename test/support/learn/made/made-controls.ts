import type { Position } from '../../../../src/vocabulary/positions.ts';
import type { ControlsWritten } from '../../../../src/vocabulary/shapes/dialect.ts';
import type { Dice } from './dice.ts';

const words = 'lorn mest pilk dran vose tuff karn bine solt girt hume wesk jarl nock ruse amby'.split(' ');

/** How one frontend spells controls. */
export function madeControls(dice: Dice, positions: readonly Position[]): ControlsWritten {
  const hold = dice.of(['global', 'global', 'each', 'none'] as const);
  const nothing = dice.of(['-', 'none', '', '-1', null]);
  const kind = dice.of(['sdl', 'sdl', 'kernel-joystick', 'w3c', 'code', 'name', 'position', 'table'] as const);
  const before = dice.of(['', 'b', 'Key ', 'btn:']);
  const joined =
    hold === 'each'
      ? { chord: { join: dice.of(['+', ' & ', ' and ', ',']), order: dice.of(['hold-first', 'hold-last'] as const) } }
      : {};
  const rest = { hold, ...(nothing === null ? {} : { nothing }), ...joined };
  switch (kind) {
    case 'table':
      return {
        ...rest,
        numbering: {
          order: 'table',
          table: Object.fromEntries(
            positions.map((position, at) => [
              position,
              `${words[at % words.length] ?? ''}${at >= words.length ? String(at) : ''}`,
            ]),
          ),
        },
      };
    case 'sdl':
    case 'kernel-joystick':
      return {
        ...rest,
        numbering: kind === 'sdl' ? { order: 'sdl', version: '2.26', udev: true } : kind,
        button: `${before}{{index}}`,
        axis: `${dice.of(['a', 'Axis ', 'tilt'])}{{axis}}{{side}}`,
        ...(kind === 'sdl' ? { hat: `${dice.of(['h', 'Hat '])}{{hat}}${dice.of(['', '.', ' '])}{{direction}}` } : {}),
      };
    case 'w3c':
      return { ...rest, numbering: kind, button: `${before}{{index}}` };
    case 'code':
    case 'name':
    case 'position':
      return { ...rest, numbering: kind, button: `${kind === 'code' ? before : ''}{{value}}` };
  }
}
