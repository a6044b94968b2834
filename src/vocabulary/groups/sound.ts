import { everyScope, instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** What is heard from the device itself. */
export const sound: readonly SettingDefinition[] = [
  {
    id: 'sound.volume-at-start',
    type: { kind: 'quantity', measure: 'percent', min: 0, max: 100 },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: true,
    description: 'How loud the device is after it is switched on.',
    words: ['volume at start', 'volume', 'start volume', 'master volume', 'sound level', 'default volume'],
    reads: 'volume at the start: {value}',
  },
  {
    id: 'sound.volume-limit',
    type: { kind: 'quantity', measure: 'percent', min: 0, max: 100 },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'How loud the device can be made at most.',
    words: ['volume limit', 'max volume', 'maximum volume', 'volume cap', 'loudness limit'],
    hazard: 'Without a limit, a small child with headphones can turn it up too far.',
    reads: 'loudest volume: {value}',
  },
  {
    id: 'sound.latency',
    type: { kind: 'quantity', measure: 'time', min: 0 },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'How much sound is kept ready. Less is heard sooner, more never crackles.',
    words: ['sound latency', 'audio latency', 'audio buffer', 'sound buffer', 'sound delay', 'buffer length'],
    hazard: 'Too little makes the sound crackle, above all on slow devices.',
    reads: 'sound latency: {value}',
  },
  {
    id: 'sound.mute',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: true,
    description: 'Whether games start without sound.',
    words: ['sound mute', 'audio mute', 'muted', 'silent'],
    contraries: ['sound', 'sound enable', 'sound on', 'audio', 'audio enable'],
    reads: 'games start without sound: {value}',
  },
];
