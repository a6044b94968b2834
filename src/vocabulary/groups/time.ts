import { instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** The device's clock. */
export const time: readonly SettingDefinition[] = [
  {
    id: 'time.zone',
    type: {
      kind: 'text',
      pattern: '^[A-Za-z][A-Za-z0-9_+-]*(/[A-Za-z0-9_+-]+){0,2}$',
      examples: ['Europe/Berlin', 'UTC'],
    },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'The time zone, by its name in the time zone database (IANA): Europe/Berlin.',
    words: ['time zone', 'timezone', 'zone', 'tz', 'region'],
    hazard: 'A wrong clock makes games with a calendar wrong, and newer saves look older than they are.',
    reads: 'time zone: {value}',
  },
  {
    id: 'time.clock-24h',
    type: { kind: 'boolean' },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'Whether the clock counts to 24 instead of twice to 12.',
    words: ['24h', 'clock 24h', '24 hour', 'hour format', 'time format', 'clock format', '12h'],
    reads: 'clock of 24 hours: {value}',
  },
  {
    id: 'time.from-network',
    type: { kind: 'boolean' },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'Whether the clock is set from the network.',
    words: ['ntp', 'network time', 'automatic time', 'time sync', 'auto time', 'timesync'],
    reads: 'clock set from the network: {value}',
  },
];
