import type { SettingDefinition } from '../vocabulary/types.ts';

/** The words of a setting that are a closed list, and so can be missing from a dialect; of a hotkey, its ways. */
export function closedWords(setting: SettingDefinition): readonly string[] {
  switch (setting.type.kind) {
    case 'boolean':
      return ['true', 'false'];
    case 'word':
    case 'words':
      return setting.type.of;
    case 'bind':
      return ['held', 'toggled', 'press', 'none'];
    case 'number':
    case 'quantity':
    case 'text':
    case 'secret':
    case 'control':
    case 'place':
    case 'texts':
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return [];
  }
}
