import { sectionPath } from './sections.ts';
import type { Role, Scope, SettingDefinition, ValueType } from './types.ts';
import { printQuantity, unitsOf } from './units.ts';
import { exampleOf } from './example.ts';

const scopeNames: Readonly<Record<Scope, string>> = {
  instance: 'a frontend',
  core: 'a core',
  system: 'a game system',
  game: 'a game',
};

const roleNames: Readonly<Record<Role, string>> = {
  player: 'frontends that play games',
  menu: 'menus of games',
  shelf: 'shelves of native games',
  system: 'operating systems',
};

function list(items: readonly string[], word: 'and' | 'or'): string {
  const last = items.at(-1) ?? '';
  return items.length < 2 ? last : `${items.slice(0, -1).join(', ')} ${word} ${last}`;
}

function bounds(min: string | undefined, max: string | undefined): string {
  if (min !== undefined && max !== undefined) return `, from ${min} to ${max}`;
  if (min !== undefined) return `, ${min} or more`;
  return max === undefined ? '' : `, ${max} or less`;
}

const measureNames = {
  time: 'a time',
  size: 'a size',
  multiplier: 'a multiple',
  percent: 'a share',
  rate: 'a rate',
  gain: 'a gain',
} as const;

/** What may be written, in words. */
function valuesOf(type: ValueType): string {
  switch (type.kind) {
    case 'boolean':
      return 'true or false';
    case 'word':
      return list(type.of, 'or');
    case 'number':
      return `a ${type.whole ? 'whole ' : ''}number${bounds(type.min?.toString(), type.max?.toString())}`;
    case 'quantity': {
      const print = (amount: number | undefined): string | undefined =>
        amount === undefined ? undefined : printQuantity(amount, type.measure);
      const units = `${measureNames[type.measure]} with its unit: ${list(unitsOf(type.measure), 'or')}`;
      const words = type.words === undefined ? '' : `; or ${list(type.words, 'or')}`;
      // That amounts are not below zero goes without saying.
      return (
        units + bounds(type.min === 0 && type.max === undefined ? undefined : print(type.min), print(type.max)) + words
      );
    }
    case 'text':
      return `a text, as in ${list(type.examples, 'or')}`;
    case 'secret':
      return 'secret:NAME; the secret itself is never written here';
    case 'control':
      return 'a position such as south, { label: A }, or none; a list is wishes, best first';
    case 'bind':
      return [
        'a position or { label: A }, pressed together with hold; or one of',
        `  { control: south }            the same${type.whiles ? ', with while: held or while: toggled' : ''}`,
        '  { chord: [select, south] }    exactly these together, without hold',
        '  { alone: south }              without hold',
        '  none                          nothing: the hotkey is taken away',
        'A list of these is wishes, best first. With if-present: true, a device that lacks the control is no mistake',
      ].join('\n');
    case 'place':
      return "part:folder, the part being one of the device's";
    case 'words':
      return `a list of ${list(type.of, 'and')}${type.ordered ? ', in order' : ''}`;
    case 'texts':
      return `a list of ${type.of}s, as in ${list(type.examples, 'or')}`;
    case 'networks':
      return 'a list of { name, password, hidden }, best first';
    case 'cores':
      return 'by game system: a core or a list of cores, best first, each core or instance/core';
    case 'options':
      return "by core: the option's own name and text";
    case 'lists':
      return 'by name of the list: games as system/path';
  }
}

/** The lines of a profile that give a setting the value, as in `exit:` over `  ask-first: false`. */
export function writtenAs(setting: SettingDefinition, value: string): string {
  const path = sectionPath(setting.id);
  const inner = path.length - 1;
  return path.map((name, depth) => `${'  '.repeat(depth)}${name}:${depth === inner ? ` ${value}` : ''}`).join('\n');
}

function reachOf({ scopes, roles }: SettingDefinition): string {
  const asked = `It is asked of ${list(
    roles.map((role) => roleNames[role]),
    'and',
  )}.`;
  if (scopes.length === 1) return `It holds for a whole frontend or operating system, nothing narrower. ${asked}`;
  const narrower = scopes.map((scope) => scopeNames[scope]);
  return `In an only block it may be given for ${list(narrower, 'or')}. ${asked}`;
}

/** One setting as a page for people: what it does, its values, how it is written, its reach and its hazard. */
export function describeSetting(setting: SettingDefinition): string {
  const example = writtenAs(setting, exampleOf(setting.type)).replaceAll(/^/gm, '  ');
  const parts = [
    setting.id,
    setting.description,
    `Values: ${valuesOf(setting.type)}.\nnull clears what a lower layer set; left out, the device's own stays.`,
    `Written as:\n${example}`,
    reachOf(setting),
  ];
  if (setting.volatile) parts.push('It changes in play, so that a change made on the device is never reported.');
  if (setting.hazard !== undefined) parts.push(`Take care: ${setting.hazard}`);
  return `${parts.join('\n\n')}\n`;
}
