/**
 * The names that templates of a dialect may hold, for the schema to print. The lists by which templates are read are in
 * dialect/template; a test holds these against them.
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
  /** In the path of a file that is made for each item. */
  item: [
    'item.name',
    'item.ssid',
    'item.ssid-keyfile',
    'item.ssid-supplicant',
    'item.uuid',
    'item.password',
    'item.hidden',
  ],
  /** In the forms of a control. */
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
