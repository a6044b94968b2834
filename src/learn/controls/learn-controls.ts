import type { ControlsWritten, EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { ControlsLearnt, KeyRow, Observation, Question, SettingRow } from '../contract.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { nameScore } from '../names/name-score.ts';
import { keyChoices } from './assign-keys.ts';
import type { KeyChoice } from './assign-keys.ts';
import { holdInChord } from './hold-in-chord.ts';
import type { HoldChord } from './hold-in-chord.ts';
import { withPairs } from './pair-keys.ts';
import { matchWords } from './match-words.ts';
import { numberingCases } from './numbering-cases.ts';
import type { Cell, Form, NumberingCase } from './numbering-cases.ts';
import { decidingQuestion } from './deciding-question.ts';
import { schemesOf, spellings } from './schemes.ts';
import type { Scheme } from './schemes.ts';
import { listChord, targetsOf } from './targets.ts';
import type { ListChord, Target } from './targets.ts';

/** The keys of one hotkey or control, and what stands against them. */
export interface ControlClaim {
  readonly setting: SettingRow;
  readonly choices: readonly KeyChoice[];
  readonly codec: EntryWritten;
}

export interface ControlsFound {
  readonly learnt: ControlsLearnt;
  readonly claims: readonly ControlClaim[];
  readonly questions: readonly Question[];
  /** Where it is written into every chord: which control it is. */
  readonly hold: Position | undefined;
  /** Spelling of the single control in any key, for keys that stand still. */
  readonly spelled: (position: Position, at: Observation) => readonly string[];
}

/** How controls are spelled, from every change of a control; undefined where none was labelled or nothing fits. */
export function learnControls(
  table: KeyTable,
  settings: readonly SettingRow[],
  rows: readonly KeyRow[],
): ControlsFound | undefined {
  const targets = targetsOf(table, settings, rows);
  const binds = targets.filter(({ setting }) => setting.setting.type.kind === 'bind');
  const chord = listChord(binds);
  const main = binds.length > 0 ? binds : targets;
  if (main.length === 0) return undefined;
  const series = [...new Set(table.observations.map((one) => one.series))];
  const changes = new Set(
    main.flatMap(({ known }, number) =>
      known.flatMap((position, at) =>
        position === undefined || position === null
          ? []
          : [`${number} ${position} ${table.observations[at]?.series.name ?? ''}`],
      ),
    ),
  ).size;
  const schemes = schemesOf(numberingCases(series), main, table.observations, chord);
  const most = schemes[0]?.explains ?? 0;
  const best = schemes.filter(({ explains }) => explains === most);
  const [first] = best;
  if (first === undefined || most < changes * 0.75) return fromWords(table, targets, settings, chord);
  return fromSchemes(table, targets, best, chord, settings, changes);
}

function fromSchemes(
  table: KeyTable,
  targets: readonly Target[],
  best: readonly Scheme[],
  list: ListChord | undefined,
  settings: readonly SettingRow[],
  changes: number,
): ControlsFound | undefined {
  const [scheme] = best;
  const [observation] = table.observations;
  if (scheme === undefined || observation === undefined) return undefined;
  const held = holdInChord(scheme, observation.series);
  const single: Scheme = held === undefined ? scheme : { ...scheme, templates: held.templates };
  const found = targets.map((target) => {
    const own = target.setting.setting.type.kind === 'bind' ? scheme : single;
    return keyChoices(target, own, table.observations, list);
  });
  const paired = withPairs(found, table, found.flatMap(([choice]) => choice?.nothing ?? [])[0]);
  const claims = targets.map((target, number): ControlClaim => {
    const choices = paired[number] ?? [];
    return {
      setting: target.setting,
      choices,
      codec:
        list !== undefined && target.setting.setting.type.kind === 'bind'
          ? { chord: { order: list.order } }
          : { control: {} },
    };
  });
  const nothing = nothingOf(claims, single, table, held);
  const section: ControlsWritten = {
    numbering: scheme.numbering.written,
    ...preferOf(targets, scheme, table, claims),
    hold:
      held !== undefined || list !== undefined
        ? 'each'
        : settings.some(({ setting }) => setting.id === 'hotkeys.hold') || withHold(settings)
          ? 'global'
          : 'none',
    ...formsOf(single.templates),
    ...(nothing === undefined ? {} : { nothing }),
    ...(held === undefined ? {} : { chord: { join: held.join, order: held.order } }),
  };
  const rivals = best.slice(1).filter((other) => !sameOnDevices(other, scheme, table));
  const question = decidingQuestion([scheme, ...rivals], table);
  return {
    learnt: {
      grade: rivals.length === 0 ? 'sure' : 'likely',
      section,
      evidence: [
        `${scheme.numbering.says}: ${scheme.explains} of ${changes} changes of controls have the very text that it foretells`,
      ],
      rivals: rivals.map(({ numbering }) => numbering.says),
    },
    claims,
    questions: question === undefined ? [] : [question],
    hold: held?.hold ?? (list === undefined ? undefined : positionOf(list.hold, single, observation)),
    spelled: (position, at) => spellings(single, at, position).map(({ text }) => text),
  };
}

function positionOf(text: string, scheme: Scheme, at: Observation): Position | undefined {
  for (const position of at.series.controls?.controls.keys() ?? [])
    if (spellings(scheme, at, position).some((one) => one.text === text)) return position;
  return undefined;
}

function withHold(settings: readonly SettingRow[]): boolean {
  return settings.some(({ known }) =>
    known.some((value) => value?.kind === 'press' && value.press.kind === 'with-hold'),
  );
}

function formsOf(templates: ReadonlyMap<Form, string>): Pick<ControlsWritten, 'button' | 'axis' | 'hat'> {
  const button = templates.get('button') ?? templates.get('text');
  const axis = templates.get('axis');
  const hat = templates.get('hat');
  return {
    ...(button === undefined ? {} : { button }),
    ...(axis === undefined ? {} : { axis }),
    ...(hat === undefined ? {} : { hat }),
  };
}

/** For a control that sends several: the form that is written, where the copies show one that is not the first. */
function preferOf(
  targets: readonly Target[],
  scheme: Scheme,
  table: KeyTable,
  claims: readonly ControlClaim[],
): Pick<ControlsWritten, 'prefer'> {
  const over = new Set<string>();
  targets.forEach((target, number) => {
    const rows = claims[number]?.choices[0]?.rows ?? [];
    target.known.forEach((position, at) => {
      const where = table.observations[at];
      if (position === undefined || position === null || where === undefined) return;
      const ways = spellings(scheme, where, position);
      if (new Set(ways.map(({ form }) => form)).size < 2) return;
      const written = ways.find(({ text }) =>
        rows.some((row) => row.held[at]?.kind === 'scalar' && row.held[at].text === text),
      );
      for (const way of ways)
        if (written !== undefined && way.form !== written.form) over.add(`${written.form} ${way.form}`);
    });
  });
  const forms = ['button', 'axis', 'hat'] as const;
  const order = [...forms].sort((a, b) =>
    over.has(`${a} ${b}`) ? -1 : over.has(`${b} ${a}`) ? 1 : forms.indexOf(a) - forms.indexOf(b),
  );
  return forms.every((form, at) => order[at] === form) ? {} : { prefer: order };
}

/** What keys hold that hold no control: what unused keys of a pair hold, else the one text of theirs that is no control's. */
function nothingOf(
  claims: readonly ControlClaim[],
  scheme: Scheme,
  table: KeyTable,
  held: HoldChord | undefined,
): string | undefined {
  for (const { choices } of claims) for (const { nothing } of choices) if (nothing !== undefined) return nothing;
  const known = new Set<string>();
  const where = table.observations[0];
  if (where === undefined) return undefined;
  for (const [position] of scheme.numbering.cells.get(where.series) ?? [])
    for (const { text } of spellings(scheme, where, position)) known.add(text);
  const strange = new Set<string>();
  for (const { choices } of claims)
    for (const { rows } of choices)
      for (const row of rows)
        for (const one of row.held)
          if (one?.kind === 'scalar' && !known.has(one.text) && (held === undefined || !one.text.includes(held.join)))
            strange.add(one.text);
  const [only] = strange;
  // Digits may be a control that this device has not.
  return strange.size === 1 && only !== undefined && !/\d/.test(only.replace(/^-1$/, '')) ? only : undefined;
}

function sameOnDevices(a: Scheme, b: Scheme, table: KeyTable): boolean {
  return table.observations.every((at) => {
    const controls = [...(at.series.controls?.controls.keys() ?? [])];
    return controls.every((position) => firstText(a, at, position) === firstText(b, at, position));
  });
}

function firstText(scheme: Scheme, at: Observation, position: Position): string | undefined {
  return spellings(scheme, at, position)[0]?.text;
}

/** Whether the name of every setting's key says it, and no name of its rivals nearly as well. */
function allNamed(keys: ReadonlyMap<Target, KeyRow>, named: (target: Target, row: KeyRow) => number): boolean {
  return [...keys].every(([target, row]) => {
    const own = named(target, row);
    return own >= 0.75 && target.rows.every((other) => other === row || named(target, other) <= own - 0.3);
  });
}

/** Words of the frontend's own for controls. */
function fromWords(
  table: KeyTable,
  targets: readonly Target[],
  settings: readonly SettingRow[],
  chord: ListChord | undefined,
): ControlsFound | undefined {
  const named = (target: Target, row: KeyRow): number => nameScore(target.setting.setting, row.key);
  const { solutions, cut } = matchWords(targets, chord, named);
  const [solution] = solutions;
  if (solution === undefined) return undefined;
  const decided = (solutions.length === 1 && !cut) || allNamed(solution.keys, named);
  const cells = new Map(
    [...solution.words].map(([position, word]): [Position, readonly Cell[]] => [
      position,
      [{ form: 'text', names: [['value', word]] }],
    ]),
  );
  const numbering: NumberingCase = {
    written: { order: 'table', table: Object.fromEntries(solution.words) },
    says: 'words of its own',
    cells: new Map(table.observations.map(({ series }) => [series, cells])),
  };
  const scheme: Scheme = { numbering, templates: new Map([['text', '{{value}}']]), explains: solution.words.size };
  const claims = targets.map((target): ControlClaim => {
    const row = solution.keys.get(target);
    const choices = row === undefined ? [] : [{ rows: [row], key: row.key, nothing: undefined }];
    return {
      setting: target.setting,
      choices,
      codec: chord === undefined ? { control: {} } : { chord: { order: chord.order } },
    };
  });
  const nothing = nothingOf(claims, scheme, table, undefined);
  const missing = [...(table.observations[0]?.series.controls?.controls.keys() ?? [])].filter(
    (position) => !solution.words.has(position),
  );
  return {
    learnt: {
      grade: decided ? 'sure' : 'likely',
      section: {
        numbering: numbering.written,
        hold: chord !== undefined ? 'each' : withHold(settings) ? 'global' : 'none',
        ...(nothing === undefined ? {} : { nothing }),
      },
      evidence: [
        `no numbering explains the controls; ${solution.words.size} have words of the frontend's own, the same in every copy`,
        ...(missing.length === 0 ? [] : [`no word was seen for ${missing.join(', ')}`]),
      ],
      rivals: decided ? [] : ['another way to give the words to the controls'],
    },
    claims,
    questions: [],
    hold: undefined,
    spelled: (position) => {
      const word = solution.words.get(position);
      return word === undefined ? [] : [word];
    },
  };
}
