import { settings } from '../../vocabulary/registry.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { AllowedNames } from './template.ts';

/** Names of the place where a value is said: the card, the device, and what the value is narrowed to. */
const common = [
  'root',
  'games-root',
  'firmware-root',
  'system.id',
  'system.name',
  'system.folder',
  'system.frame-rate',
  'core.id',
  'core.name',
  'game.path',
  'game.name',
  'game.stem',
  'instance.name',
  'instance.bits',
  'device.id',
  'device.name',
] as const;

/**
 * Members of one network. `ssid` and `name` are one thing; `ssid-keyfile` and `ssid-supplicant` are it as NetworkManager's
 * keyfiles and wpa_supplicant.conf hold it; `uuid` is the same at every build.
 */
const networkNames = ['name', 'ssid', 'ssid-keyfile', 'ssid-supplicant', 'uuid', 'password', 'hidden'] as const;
/** Names of one network, in a file that is made for each. */
const itemNames = networkNames.map((name) => `item.${name}`);
const noLists: AllowedNames['lists'] = new Map();

function namesOf(values: readonly string[], lists: AllowedNames['lists'] = noLists): AllowedNames {
  return { values: new Set(values), lists };
}

/** Paths and keys; with `each`, the item's name too. */
export const pathNames = namesOf([...common]);
export const eachPathNames = namesOf([...common, ...itemNames]);
/** Keys of an options setting. */
export const keyNames = namesOf([...common, 'option.name']);
/** The key that a codec determines itself. No dialect can write this name. */
export const ownKeyName = 'own-key';
export const ownKeyNames = namesOf([ownKeyName]);
/** The `text` codec. */
export const textNames = namesOf([...common, 'option.name', 'value']);
/** Forms of a control. `value`: the number, name or table word of a numbering that has no button, axis or hat. */
export const controlNames = namesOf([
  'index',
  'axis',
  'side',
  'hat',
  'direction',
  'code',
  'name',
  'position',
  'label',
  'value',
  'instance.name',
  'device.id',
  'device.name',
]);
/** Where saves and states lie. `name`: the file's own name, for the picture beside it. */
export const saveNames = namesOf([...common, 'slot', 'name']);

const networkMembers: ReadonlySet<string> = new Set(networkNames.map((name) => `this.${name}`));
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
export const eachFileNames = namesOf([...common, ...itemNames, ...settingValues], settingLists);

const computed = new Map<string, AllowedNames>();

/** A `computed` key over these settings. */
export function computedNames(from: readonly string[]): AllowedNames {
  const key = from.join(' ');
  let names = computed.get(key);
  if (names === undefined) computed.set(key, (names = namesOf([...common, ...from.map((id) => `values.${id}`)])));
  return names;
}
