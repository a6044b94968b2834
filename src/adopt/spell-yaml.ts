import type { DeviceControls } from '../model/device.ts';
import type { Press, Value } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { parseQuantity, printQuantity } from '../vocabulary/units.ts';
import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';

type Members = Readonly<Record<string, unknown>>;

/** Where a value is to be written: what stands there now, and the device it is for. */
export interface SpellSite {
  /** The YAML that stands there as plain data; undefined where nothing does. */
  readonly written: unknown;
  readonly controls: DeviceControls;
}

function isMapping(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * A value as a person would write it, in the manner of what stands there: its unit, its labels, its list of wishes. Best
 * first; a later one says the same more plainly, for when the first does not win (a wish that something else takes).
 * Empty where no YAML can say it.
 */
export function spellYaml(setting: SettingDefinition, value: Value, site: SpellSite): readonly PlainYaml[] {
  switch (value.kind) {
    case 'boolean':
      return [value.is];
    case 'word':
      return [value.word];
    case 'number':
      return [value.number];
    case 'quantity':
      return [quantity(value, site.written)];
    case 'text':
      return [value.text];
    case 'secret':
      return [`secret:${value.name}`];
    case 'none':
      return ['none'];
    case 'place':
      return [`${value.part}:${value.folder}`];
    case 'words':
      return [listOrOne(value.words, site.written)];
    case 'texts':
      return [setting.type.kind === 'lists' ? [...value.texts] : listOrOne(value.texts, site.written)];
    case 'networks':
      return [
        value.networks.map(({ name, password, hidden }) => ({
          name,
          ...(password === undefined ? {} : { password: `secret:${password}` }),
          ...(hidden ? { hidden } : {}),
        })),
      ];
    case 'core':
      return cores(value, site.written);
    case 'control':
      return distinct([controlWishes(value.position, site), control(value.position, site.written, site)]);
    case 'press':
      return distinct(press(setting, value, site));
  }
}

/** In the unit that stands there, where the amount is short in it; else in the one that makes it shortest. */
function quantity(value: Extract<Value, { kind: 'quantity' }>, written: unknown): string {
  const shortest = printQuantity(value.amount, value.measure);
  if (typeof written !== 'string') return shortest;
  const parts = /^\s*[+-]?[0-9.]+(\s*)(\D.*?)\s*$/.exec(written);
  const [, blanks = ' ', unit = ''] = parts ?? [];
  const one = parseQuantity(`1 ${unit}`, value.measure);
  if (parts === null || one.kind === 'bad') return shortest;
  const text = `${String(Number((value.amount / one.amount).toFixed(9)))}${blanks}${unit}`;
  const back = parseQuantity(text, value.measure);
  return back.kind === 'amount' && back.amount === value.amount && text.length <= shortest.length + 3 ? text : shortest;
}

/** One word alone stays alone where it stood alone. */
function listOrOne(items: readonly string[], written: unknown): PlainYaml {
  const [first, second] = items;
  return first !== undefined && second === undefined && typeof written === 'string' ? first : [...items];
}

/** The core first, those wanted besides it behind; unqualified where nothing else was said of the instance. */
function cores(value: Extract<Value, { kind: 'core' }>, written: unknown): readonly PlainYaml[] {
  const known = (Array.isArray(written) ? written : [written]).filter((item) => typeof item === 'string');
  const qualified = `${value.instance}/${value.core}`;
  const others = known.filter((item) => item !== value.core && item !== qualified);
  const both = [value.core, qualified].flatMap((name): PlainYaml[] =>
    others.length === 0 ? [name] : [[name, ...others], name],
  );
  // What stood there in full is written in full.
  return known.includes(qualified) ? [...both.slice(both.length / 2), ...both.slice(0, both.length / 2)] : both;
}

/** A position, or the label of the control where a label stands. */
function control(position: Position, written: unknown, site: SpellSite): PlainYaml {
  if (!isMapping(written) || !('label' in written)) return position;
  const { controls } = site.controls;
  const label = controls.get(position)?.label;
  const alone = [...controls.values()].filter((one) => one.label === label).length === 1;
  return label !== undefined && alone ? { label } : position;
}

/** Whether a written reference is this control. */
function names(written: unknown, position: Position, site: SpellSite): boolean {
  if (typeof written === 'string') return written === position;
  return isMapping(written) && 'label' in written && site.controls.controls.get(position)?.label === written['label'];
}

/** A list of wishes stays one: the control is put first, in the place of the one that had won. */
function wishes(
  position: Position,
  list: readonly unknown[],
  site: SpellSite,
): readonly { readonly item: PlainYaml; readonly fresh: boolean }[] | undefined {
  const plain = list.flatMap((item) => (isPlain(item) ? [item] : []));
  if (plain.length < list.length || plain.length === 0) return undefined;
  const at = list.findIndex((item) => names(item, position, site));
  if (at >= 0) {
    const own = plain[at] ?? position;
    return [own, ...plain.filter((_, k) => k !== at)].map((item) => ({ item, fresh: false }));
  }
  const has = (item: unknown): boolean => [...site.controls.controls.keys()].some((known) => names(item, known, site));
  // Wishes that this device does not have are other devices', and stay in front.
  const first = list.findIndex(has);
  return plain.map((item, k) =>
    k === Math.max(first, 0) ? { item: control(position, list[k], site), fresh: true } : { item, fresh: false },
  );
}

function controlWishes(position: Position, site: SpellSite): PlainYaml {
  if (!Array.isArray(site.written)) return control(position, site.written, site);
  return wishes(position, site.written, site)?.map(({ item }) => item) ?? position;
}

function press(
  setting: SettingDefinition,
  value: Extract<Value, { kind: 'press' }>,
  site: SpellSite,
): readonly PlainYaml[] {
  const whiles = setting.type.kind === 'bind' && setting.type.whiles;
  const manner = whiles && value.while === 'toggled' ? { while: 'toggled' } : {};
  const plain = plainPress(value.press, manner, site);
  const { written } = site;
  const kind = value.press.kind === 'with-hold' ? 'control' : value.press.kind;
  if (isMapping(written) && kind in written && value.press.kind !== 'chord') {
    // The mapping stays: only the control, and what it does while pressed, are another.
    const { [kind]: given, while: was, ...rest } = written;
    const kept = Object.entries(rest).flatMap(([name, member]) => (isPlain(member) ? [[name, member] as const] : []));
    const held = was === undefined || !whiles ? manner : { while: value.while };
    const now = Array.isArray(given)
      ? wishes(value.press.position, given, site)?.map(({ item }) => item)
      : control(value.press.position, given, site);
    const variants = [now, control(value.press.position, Array.isArray(given) ? given[0] : given, site)];
    return [
      ...variants.flatMap((one): PlainYaml[] =>
        one === undefined ? [] : [{ [kind]: one, ...held, ...Object.fromEntries(kept) }],
      ),
      plain,
    ];
  }
  if (Array.isArray(written) && value.press.kind === 'with-hold' && Object.keys(manner).length === 0) {
    const list = wishes(value.press.position, written, site);
    if (list !== undefined) return [list.map(({ item }) => item), plain];
  }
  return [plain];
}

/** `start`, `{ label: A }`, `{ control: start, while: toggled }`, `{ chord: […] }`, `{ alone: … }`. */
function plainPress(given: Press, manner: { readonly while?: string }, site: SpellSite): PlainYaml {
  switch (given.kind) {
    case 'with-hold': {
      const one = control(given.position, site.written, site);
      return 'while' in manner ? { control: one, ...manner } : one;
    }
    case 'chord':
      return { chord: [...given.positions], ...manner };
    case 'alone':
      return { alone: given.position, ...manner };
  }
}

function isPlain(value: unknown): value is PlainYaml {
  if (value === null || ['boolean', 'number', 'string'].includes(typeof value)) return true;
  if (Array.isArray(value)) return value.every(isPlain);
  return isMapping(value) && Object.values(value).every(isPlain);
}

function distinct(all: readonly PlainYaml[]): readonly PlainYaml[] {
  const seen = new Set<string>();
  return all.filter((one) => {
    const key = JSON.stringify(one);
    return seen.has(key) ? false : seen.add(key) !== undefined;
  });
}
