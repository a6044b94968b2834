/**
 * The names that templates of a dialect may hold: for the schema to print, and for dialect/template to read by.
 */
export const templateNames = {
  /** In paths, keys and texts: the card, the device, and what the value is narrowed to. */
  common: [
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
  ],
  /**
   * Members of one network, in the path of a file that is made for each. `ssid` and `name` are one thing; `ssid-keyfile`
   * and `ssid-supplicant` are it as NetworkManager's keyfiles and wpa_supplicant.conf hold it; `uuid` is the same at every
   * build.
   */
  item: [
    'item.name',
    'item.ssid',
    'item.ssid-keyfile',
    'item.ssid-supplicant',
    'item.uuid',
    'item.password',
    'item.hidden',
  ],
  /** In the forms of a control. `value`: the number, name or word of a numbering that has no button, axis or hat. */
  control: [
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
  ],
  /** Besides the common ones, where saves and states lie. */
  saves: ['slot', 'name'],
} as const;

/** As in `{{root}}, {{system.id}}`. */
export function printedNames(...lists: readonly (readonly string[])[]): string {
  return lists
    .flat()
    .map((name) => `{{${name}}}`)
    .join(', ');
}
