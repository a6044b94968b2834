import type { Sheet, SheetChange, SheetCopy } from '../../model/sheet.ts';
import type { Value } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { copiesFor, patterns } from './patterns.ts';
import { placeActions } from './place-actions.ts';

/** What a sheet is made for. */
export interface SheetInput {
  /** Of the settings that the frontend's roles ask for, or the first ten of them. */
  readonly settings: readonly SettingDefinition[];
  readonly controls: readonly Position[];
  /** Never moved, so that nobody is locked out: what is held for hotkeys, and what opens the menu, as they are now. */
  readonly stays: readonly Position[];
}

const openMenu = 'hotkeys.bind.open-menu';
/** Pressed for other things than hotkeys on nearly every device. */
const notForHotkeys: ReadonlySet<Position> = new Set(['power', 'lid', 'volume-up', 'volume-down']);

/**
 * The recipe for one frontend on one device: which few copies tell all settings apart, and what to change before each. The
 * same at every call, so that the sheet need not be kept: what was changed is known from it.
 */
export function makeSheet({ settings, controls, stays }: SheetInput): Sheet {
  const leftOut: { setting: SettingDefinition; why: string }[] = [];
  const free = controls.filter((position) => !stays.includes(position) && !notForHotkeys.has(position));
  const binds = settings.filter(({ type, id }) => type.kind === 'bind' && id !== openMenu);
  for (const setting of settings)
    if (setting.id === openMenu || setting.id === 'hotkeys.hold')
      leftOut.push({
        setting,
        why: 'It stays where it is, so that you always reach the menu; it is learnt from that.',
      });
  const placings = placeActions(
    binds.map(({ id }) => id),
    free,
  );
  if (placings === undefined)
    for (const setting of binds) leftOut.push({ setting, why: 'The device has too few controls to move it about.' });
  const hotkeys = (placings ?? []).map((placing) =>
    binds.flatMap((setting): readonly SheetChange[] => {
      const position = placing.get(setting.id);
      if (position === undefined) return [];
      const press = { kind: 'with-hold', position } as const;
      return [{ setting, to: { kind: 'press', press, while: whileOf(setting) } }];
    }),
  );
  const switches = switchCopies(settings, leftOut);
  const changes = [
    ...hotkeys.map((list) => ({ kind: 'hotkeys', changes: list }) as const),
    ...switches.map((list) => ({ kind: 'switches', changes: list }) as const),
  ];
  const copies: readonly Omit<SheetCopy, 'number'>[] = [
    { kind: 'idle', changes: [] },
    { kind: 'idle-again', changes: [] },
    ...changes,
  ];
  return { copies: copies.map((copy, at) => ({ ...copy, number: at + 1 })), leftOut };
}

function whileOf({ type }: SettingDefinition): 'held' | 'press' {
  return type.kind === 'bind' && type.whiles ? 'held' : 'press';
}

/** What a setting can be told to be; undefined where the person picks. */
function choices({ type }: SettingDefinition): readonly Value[] | undefined {
  if (type.kind === 'boolean')
    return [
      { kind: 'boolean', is: true },
      { kind: 'boolean', is: false },
    ];
  if (type.kind === 'word') return type.of.map((word) => ({ kind: 'word', word }));
  return undefined;
}

function whyLeftOut({ type, volatile }: SettingDefinition): string | undefined {
  if (volatile) return 'It changes whenever it is used; tell it by --changed if you want it.';
  switch (type.kind) {
    case 'boolean':
    case 'word':
    case 'bind':
    case 'number':
    case 'quantity':
    case 'text':
    case 'place':
    case 'words':
      return undefined;
    case 'control':
      return 'It is about what games get, not about the frontend; tell it by --changed if the menu has it.';
    case 'secret':
      return 'A password or account is never asked for; its key is told by its name.';
    case 'texts':
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return 'It is a list, and is told by --changed if the menu has it.';
  }
}

/** Of a setting with more choices than these, only the first are turned to: each takes a copy. */
const mostChoices = 5;

/** Switches and choices by patterns that tell them all apart; the rest twice, to whatever the person picks. */
function switchCopies(
  settings: readonly SettingDefinition[],
  leftOut: { setting: SettingDefinition; why: string }[],
): readonly (readonly SheetChange[])[] {
  const switched = new Map<number, { readonly setting: SettingDefinition; readonly values: readonly Value[] }[]>();
  const picked: SettingDefinition[] = [];
  for (const setting of settings) {
    if (setting.type.kind === 'bind' || setting.id === 'hotkeys.hold') continue;
    const why = whyLeftOut(setting);
    const values = choices(setting)?.slice(0, mostChoices);
    if (why !== undefined) leftOut.push({ setting, why });
    else if (values === undefined) picked.push(setting);
    else if (values.length < 2) leftOut.push({ setting, why: 'It has one choice only.' });
    else switched.set(values.length, [...(switched.get(values.length) ?? []), { setting, values }]);
  }
  const counts = new Map([...switched].map(([choices, list]) => [choices, list.length]));
  // A number's unit is told by two values.
  const length = Math.max(copiesFor(counts), picked.length > 0 ? 2 : 0);
  const turned = new Map<string, readonly Value[]>();
  for (const [choices, list] of switched)
    patterns(list.length, choices, length).forEach((pattern, at) => {
      const one = list[at];
      if (one !== undefined)
        turned.set(
          one.setting.id,
          pattern.flatMap((choice) => one.values[choice] ?? []),
        );
    });
  return Array.from({ length }, (_, copy) =>
    settings.flatMap((setting): readonly SheetChange[] => {
      const values = turned.get(setting.id);
      if (values === undefined) return copy < 2 && picked.includes(setting) ? [{ setting, to: undefined }] : [];
      const to = values[copy];
      return to === undefined || to === values[copy - 1] ? [] : [{ setting, to }];
    }),
  );
}
