import { controlDiffers } from '../../model/comparison.ts';
import type {
  Comparison,
  ComparedPress,
  FactSide,
  HotkeyChange,
  InstancePair,
  SaidOrigin,
  SettingDifference,
  SideValue,
  Unlearn,
} from '../../model/comparison.ts';
import type { ScopePoint } from '../../model/resolved.ts';
import { placeLine } from '../../text/place-line.ts';
import { scopeText } from '../fidelity.ts';
import type { PageCell, PageSection } from '../html/page.ts';

function originOf(origin: SaidOrigin | undefined): { readonly origin?: string } {
  return origin === undefined ? {} : { origin: [origin.place, ...(origin.also ?? [])].map(placeLine).join(', ') };
}

/** `rewind` for `hotkeys.bind.rewind`: the action is name enough. */
function shortName(setting: string, item?: string): string {
  return setting.replace(/^hotkeys\.(bind\.)?/, '') + (item === undefined ? '' : ` ${item}`);
}

function groupOf(setting: string): string {
  return setting.replace(/\..*$/, '');
}

/** The parts of a report, in the order in which a person needs them. */
export const diffParts = ['hands', 'hotkeys', 'cores', 'settings', 'cannot', 'frontends', 'controls', 'facts'] as const;

export type DiffPart = (typeof diffParts)[number];

const makers: Readonly<Record<DiffPart, (comparison: Comparison) => PageSection | undefined>> = {
  hands: handsSection,
  hotkeys: hotkeysSection,
  cores: coresSection,
  settings: settingsSection,
  cannot: cannotSection,
  frontends: loneSection,
  controls: controlsSection,
  facts: factsSection,
};

/** The sections of a comparison. Those without a difference are left out. */
export function diffSections(comparison: Comparison, parts: readonly DiffPart[] = diffParts): readonly PageSection[] {
  return parts.map((part) => makers[part](comparison)).filter((section) => section !== undefined);
}

/** In which instances and at which scope a row holds; empty where that goes without saying. */
function whereText(pairs: readonly InstancePair[], scope: ScopePoint, several: boolean): string {
  const names = pairs.map(({ a, b }) => (a === b || b === undefined ? (a ?? '') : a === undefined ? b : `${a} / ${b}`));
  const parts = [
    ...(several ? [names.join(', ')] : []),
    ...(Object.keys(scope).length === 0 ? [] : [scopeText(scope)]),
  ];
  return parts.join(', ');
}

/** Whether a table must say of each row which frontends it is of: not where all rows are of every one that is compared. */
function isMixed(rows: readonly { readonly pairs: readonly unknown[] }[], { pairs }: Comparison): boolean {
  const all = pairs.filter(({ a, b }) => a !== undefined && b !== undefined).length;
  return rows.some((row) => row.pairs.length < all);
}

function named(name: string, where: string): PageCell {
  return { text: name, ...(where === '' ? {} : { origin: where }) };
}

function handsSection(comparison: Comparison): PageSection | undefined {
  const { hands, a, b } = comparison;
  if (hands.length === 0) return undefined;
  const mixed = isMixed(
    hands.map(({ instances }) => ({ pairs: instances })),
    comparison,
  );
  return {
    heading: 'For the hands',
    paragraphs: [`What somebody used to ${a.shown} has to unlearn on ${b.shown}.`],
    tables: [
      {
        columns: ['action', `on ${a.shown}`, `on ${b.shown}`],
        rows: hands.map((one) => [
          named(
            shortName(one.setting),
            whereText(
              one.instances.map((name) => ({ a: name, b: undefined })),
              one.scope,
              mixed,
            ),
          ),
          { text: one.was },
          { text: nowText(one) },
        ]),
      },
    ],
  };
}

function nowText({ now, why, oldPressDoes, dangerous }: Unlearn): string {
  const does = now ?? (why === undefined ? 'nothing' : `nothing: ${why}`);
  if (oldPressDoes === undefined) return does;
  return `${does}; the old press: ${shortName(oldPressDoes)}${dangerous ? ' (take care)' : ''}`;
}

const changeTexts: Readonly<Record<HotkeyChange, string>> = {
  'same-place': 'the same place, another letter',
  'same-letter': 'the same letter, another place',
  moved: 'another place',
  'other-way': 'the same controls, pressed otherwise',
  'only-a': 'here only',
  'only-b': 'here only',
};

function hotkeysSection(comparison: Comparison): PageSection | undefined {
  const { hotkeys, a, b } = comparison;
  if (hotkeys.length === 0) return undefined;
  const mixed = isMixed(hotkeys, comparison);
  const press = (one: ComparedPress | undefined): PageCell =>
    one === undefined ? { text: '-' } : { text: one.text, ...originOf(one.origin) };
  const groups = (Object.keys(changeTexts) as readonly HotkeyChange[]).filter((change) =>
    hotkeys.some((one) => one.change === change),
  );
  return {
    heading: 'Hotkeys and controls',
    tables: groups.map((change) => ({
      caption:
        change === 'only-a' ? `on ${a.shown} only` : change === 'only-b' ? `on ${b.shown} only` : changeTexts[change],
      columns: ['action', a.shown, b.shown],
      rows: hotkeys
        .filter((one) => one.change === change)
        .map((one) => [
          named(shortName(one.setting), whereText(one.pairs, one.scope, mixed)),
          press(one.a),
          press(one.b),
        ]),
    })),
  };
}

function valueCell(value: SideValue, reasons: readonly string[] = []): PageCell {
  if (value.kind === 'left-alone') return { text: '-' };
  return { text: [value.text, ...reasons].join('; '), ...originOf(value.origin) };
}

function settingRow(difference: SettingDifference, mixed: boolean, name: string): readonly PageCell[] {
  const { pairs, scope, a, b, agree, reasons } = difference;
  const two = valueCell(b, reasons.b);
  return [
    named(name, whereText(pairs, scope, mixed)),
    valueCell(a, reasons.a),
    agree === true ? { ...two, text: 'the same' } : two,
  ];
}

function coresSection(comparison: Comparison): PageSection | undefined {
  const { settings, a, b } = comparison;
  const rows = settings.filter(({ setting }) => setting === 'cores.choice');
  if (rows.length === 0) return undefined;
  const mixed = isMixed(rows, comparison);
  return {
    heading: 'Cores',
    tables: [
      {
        columns: ['system', a.shown, b.shown],
        rows: rows.map((row) => {
          const { system = 'any', ...narrower } = row.scope;
          return settingRow({ ...row, scope: narrower }, mixed, system);
        }),
      },
    ],
  };
}

/** Settings that no other section tells, by group. */
function settingsSection(comparison: Comparison): PageSection | undefined {
  const { settings, hotkeys, a, b } = comparison;
  const told = new Set(hotkeys.map(({ setting, scope }) => JSON.stringify([setting, scope])));
  const rest = settings.filter(
    ({ setting, scope }) => setting !== 'cores.choice' && !told.has(JSON.stringify([setting, scope])),
  );
  const groups = [...new Set(rest.map(({ setting }) => groupOf(setting)))];
  if (groups.length === 0) return undefined;
  return {
    heading: 'Settings',
    ...(rest.some((row) => row.a.kind === 'left-alone' || row.b.kind === 'left-alone')
      ? { paragraphs: ['A dash: nothing is said of it there, and what the frontend comes with holds.'] }
      : {}),
    tables: groups.map((group) => {
      const rows = rest.filter(({ setting }) => groupOf(setting) === group);
      const mixed = isMixed(rows, comparison);
      return {
        caption: group,
        columns: ['setting', a.shown, b.shown],
        rows: rows.map((row) => settingRow(row, mixed, nameIn(group, row))),
      };
    }),
  };
}

function nameIn(group: string, { setting, item }: SettingDifference): string {
  return setting.slice(group.length + 1) + (item === undefined ? '' : ` ${item}`);
}

function cannotSection({ cannot, a, b }: Comparison): PageSection | undefined {
  if (cannot.length === 0) return undefined;
  const sides = [{ side: 'a', name: a.shown } as const, { side: 'b', name: b.shown } as const];
  return {
    heading: 'What one side cannot say',
    tables: sides.flatMap(({ side, name }) => {
      const own = cannot.filter((one) => one.side === side);
      if (own.length === 0) return [];
      const because = ({ kind, why }: (typeof own)[number]): string =>
        kind === 'only-near' ? `only near: ${why}` : why;
      return [
        {
          caption: `${name} cannot`,
          columns: ['because', 'frontend', 'setting'],
          rows: [...new Set(own.map(because))].map((why) => {
            const alike = own.filter((one) => because(one) === why);
            const settings = alike.map(({ setting, item, scope }) => {
              const narrow = Object.keys(scope).length === 0 ? '' : ` (${scopeText(scope)})`;
              return shortName(setting, item) + narrow;
            });
            const instances = [...new Set(alike.flatMap((one) => one.instances))];
            return [{ text: why }, { text: instances.join(', ') }, { text: [...new Set(settings)].join(', ') }];
          }),
        },
      ];
    }),
  };
}

function loneSection({ lone, a, b }: Comparison): PageSection | undefined {
  if (lone.length === 0) return undefined;
  return {
    heading: 'Frontends on one side only',
    items: lone.map(({ side, instance, dialect, says }) => ({
      text: `${instance}${instance === dialect ? '' : ` (${dialect})`}, on ${side === 'a' ? a.shown : b.shown} only: ${says.length} settings`,
    })),
  };
}

const stickSide = /^(stick-(?:left|right))-(?:up|down|left|right)$/;

function controlsSection({ controls, a, b }: Comparison): PageSection | undefined {
  const differing = controls.filter(controlDiffers);
  if (differing.length === 0) return undefined;
  const has = (control: Comparison['controls'][number]['a']): string =>
    control === undefined ? 'none' : (control.label ?? 'no label');
  const rows = differing.map((one) => [one.position.replace(stickSide, '$1'), has(one.a), has(one.b)]);
  // The four directions of a stick are one row where they are alike.
  const once = new Map(rows.map((row) => [JSON.stringify(row), row]));
  return {
    heading: 'Controls',
    tables: [
      {
        columns: ['position', a.shown, b.shown],
        rows: [...once.values()].map((row) => row.map((text) => ({ text }))),
      },
    ],
  };
}

function factsSection({ facts, a, b }: Comparison): PageSection | undefined {
  if (facts.length === 0) return undefined;
  const cell = (fact: FactSide | undefined): PageCell =>
    fact === undefined
      ? { text: '-' }
      : { text: fact.text, ...(fact.place === undefined ? {} : { origin: placeLine(fact.place) }) };
  return {
    heading: 'Devices and frontends',
    tables: [
      {
        columns: ['fact', a.shown, b.shown],
        rows: facts.map((one) => [{ text: one.fact }, cell(one.a), cell(one.b)]),
      },
    ],
  };
}
