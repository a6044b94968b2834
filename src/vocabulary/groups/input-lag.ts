import { everyScope } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** The time from a press to what it does on the screen. */
export const inputLag: readonly SettingDefinition[] = [
  {
    id: 'input-lag.read-late',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether the controls are read as late as possible in each frame, so that a press shows sooner.',
    words: ['read late', 'frame delay', 'late polling', 'poll late', 'late input', 'input delay', 'latency'],
    hazard: 'On a slow device frames are missed and the sound crackles.',
    reads: 'read the controls late: {value}',
  },
  {
    id: 'input-lag.frames-hidden',
    type: { kind: 'number', whole: true, min: 0, max: 12 },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: "How many frames of a game's own delay are worked out ahead and hidden. 0 hides none.",
    words: ['frames hidden', 'look ahead', 'lookahead', 'ahead frames', 'lag frames'],
    hazard: 'Each frame makes the device work as much again; more than the game has makes it jump.',
    reads: 'frames of delay hidden: {value}',
  },
];
