import type { Scope } from './types.ts';

/** May be given for the whole frontend, one core, one system or one game. */
export const everyScope: readonly Scope[] = ['instance', 'core', 'system', 'game'];

/** The whole frontend (or operating system), nothing narrower. */
export const instanceOnly: readonly Scope[] = ['instance'];
