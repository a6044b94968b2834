import { everyScope } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** Leaving a game. */
export const exit: readonly SettingDefinition[] = [
  {
    id: 'exit.ask-first',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether the frontend asks, or wants a second press, before it leaves a game.',
    words: [
      'ask first',
      'confirm exit',
      'confirm quit',
      'quit twice',
      'press twice',
      'ask',
      'exit prompt',
      'really quit',
    ],
    hazard: 'With it on, the exit-game hotkey takes two presses, and people think that the first did nothing.',
    reads: 'ask before leaving a game: {value}',
  },
];
