import { settingById, settings } from './registry.ts';
import type { SettingDefinition } from './types.ts';

/** The sections of a profile, in vocabulary order: the first part of every setting's id. */
export const groups: readonly string[] = [...new Set(settings.map(({ id }) => sectionPath(id)[0] ?? id))];

/** The member names that lead to a setting in a profile: `saves.state-file.packed` is at saves, state-file, packed. */
export function sectionPath(id: string): readonly string[] {
  return id.split('.');
}

/**
 * The setting whose whole value stands at these member names; undefined above, below and beside. Below `cores.choice`
 * (by system), `cores.options` (by core, then option) and `games.lists` (by list) the names are the person's own.
 */
export function settingAt(path: readonly string[]): SettingDefinition | undefined {
  return settingById(path.join('.'));
}
