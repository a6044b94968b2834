import { everyScope, instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** Feats that a service on the network counts. */
export const achievements: readonly SettingDefinition[] = [
  {
    id: 'achievements.enabled',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether feats in games are counted by a service on the network.',
    words: ['achievements', 'achievements enable', 'trophies', 'feats', 'achievements enabled'],
    hazard: 'They need the network for as long as the game is played.',
    reads: 'achievements: {value}',
  },
  {
    id: 'achievements.account',
    type: { kind: 'secret' },
    scopes: instanceOnly,
    roles: ['player'],
    volatile: false,
    description: 'The account at the service, as secret:NAME.',
    words: ['achievements account', 'achievements username', 'achievements user', 'username', 'account', 'login'],
    reads: 'account for achievements: {value}',
  },
  {
    id: 'achievements.password',
    type: { kind: 'secret' },
    scopes: instanceOnly,
    roles: ['player'],
    volatile: false,
    description: 'The password or key of the account, as secret:NAME.',
    words: ['achievements password', 'password', 'token', 'achievements key', 'achievements token'],
    hazard: 'It lies readable on the card once it is written.',
    reads: 'password for achievements: {value}',
  },
  {
    id: 'achievements.strict',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether only unaided play counts.',
    words: ['strict achievements', 'hardcore', 'strict', 'hardcore mode', 'unaided'],
    hazard: 'Loading a state, rewinding, cheats and resuming are switched off while it is on.',
    reads: 'only unaided play counts: {value}',
  },
  {
    id: 'achievements.show-progress',
    type: { kind: 'boolean' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'Whether progress towards a feat is shown while playing.',
    words: ['achievements progress', 'show progress', 'progress tracker', 'achievement popup'],
    reads: 'show progress of achievements: {value}',
  },
];
