import { settings } from '../../vocabulary/registry.ts';
import { templateNames } from '../../vocabulary/template-names.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { AllowedNames } from './template.ts';

const { common, item, control, saves } = templateNames;
const noLists: AllowedNames['lists'] = new Map();

function namesOf(values: readonly string[], lists: AllowedNames['lists'] = noLists): AllowedNames {
  return { values: new Set(values), lists };
}

/** Paths and keys; with `each`, the item's name too. */
export const pathNames = namesOf([...common]);
export const eachPathNames = namesOf([...common, ...item]);
/** Keys of an options setting. */
export const keyNames = namesOf([...common, 'option.name']);
/** The key that a codec determines itself. No dialect can write this name. */
export const ownKeyName = 'own-key';
export const ownKeyNames = namesOf([ownKeyName]);
/** The `text` codec. */
export const textNames = namesOf([...common, 'option.name', 'value']);
/** Forms of a control. `value`: the number, name or table word of a numbering that has no button, axis or hat. */
export const controlNames = namesOf(control);
/** Where saves and states lie. `name`: the file's own name, for the picture beside it. */
export const saveNames = namesOf([...common, ...saves]);

const networkMembers: ReadonlySet<string> = new Set(item.map((name) => name.replace(/^item\./, 'this.')));
const plainMembers: ReadonlySet<string> = new Set(['this']);

function isListed(setting: SettingDefinition): boolean {
  return setting.type.kind === 'words' || setting.type.kind === 'texts' || setting.type.kind === 'networks';
}

const settingLists = new Map(
  settings
    .filter(isListed)
    .map(
      (setting) =>
        [`settings.${setting.id}`, setting.type.kind === 'networks' ? networkMembers : plainMembers] as const,
    ),
);
const settingValues = settings.filter((setting) => !isListed(setting)).map((setting) => `settings.${setting.id}`);

/** Template files; with `each`, one for each network. */
export const fileNames = namesOf([...common, ...settingValues], settingLists);
export const eachFileNames = namesOf([...common, ...item, ...settingValues], settingLists);

const computed = new Map<string, AllowedNames>();

/** A `computed` key over these settings. */
export function computedNames(from: readonly string[]): AllowedNames {
  const key = from.join(' ');
  let names = computed.get(key);
  if (names === undefined) computed.set(key, (names = namesOf([...common, ...from.map((id) => `values.${id}`)])));
  return names;
}
