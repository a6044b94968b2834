import type { EntryWritten, KeyWritten } from '../../vocabulary/shapes/dialect.ts';
import type { KeyRow } from '../contract.ts';
import type { ControlsFound } from '../controls/learn-controls.ts';
import { withPairs } from '../controls/pair-keys.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { nameWords } from './name-words.ts';

/** The entry of a control without its file, and the keys that it takes; or what is not shown, as a clause. */
export type BindEntry =
  | { readonly kind: 'entry'; readonly entry: EntryWritten; readonly rows: readonly KeyRow[] }
  | { readonly kind: 'open'; readonly why: string };

type Choice = 'held' | 'toggled' | 'button' | 'axis' | 'hat';

/** Words by which keys of one hotkey are told apart, by what they choose. */
const choiceWords: ReadonlyMap<string, Choice> = new Map([
  ['hold', 'held'],
  ['held', 'held'],
  ['while', 'held'],
  ['toggle', 'toggled'],
  ['toggled', 'toggled'],
  ['lock', 'toggled'],
  ['latch', 'toggled'],
  ['button', 'button'],
  ['btn', 'button'],
  ['axis', 'axis'],
  ['hat', 'hat'],
]);

/** One key for each manner or kind of control, where the words of the keys say which is whose. */
function keyMap(rows: readonly KeyRow[]): KeyWritten | undefined {
  const told = rows.map(({ key }) => {
    const found = new Set(nameWords(key).flatMap((word) => choiceWords.get(word) ?? []));
    const manner = found.has('toggled') ? 'toggled' : found.has('held') ? 'held' : undefined;
    const form = (['button', 'axis', 'hat'] as const).find((one) => found.has(one));
    return { key, manner, form };
  });
  const flat = (own: typeof told, by: 'manner' | 'form'): KeyWritten | undefined => {
    const pairs = own.flatMap((one) => (one[by] === undefined ? [] : [[one[by], one.key] as const]));
    return pairs.length === own.length && new Set(pairs.map(([choice]) => choice)).size === own.length
      ? Object.fromEntries(pairs)
      : undefined;
  };
  const manners = [...new Set(told.map(({ manner }) => manner))];
  if (manners.length === 1) return flat(told, 'form');
  if (told.every(({ form }) => form === undefined)) return flat(told, 'manner');
  const nested = manners.map((manner) => {
    const own = told.filter((one) => one.manner === manner);
    const [only] = own;
    return [manner, own.length === 1 && only?.form === undefined ? only?.key : flat(own, 'form')] as const;
  });
  const sound = nested.flatMap(([manner, key]) =>
    manner === undefined || key === undefined ? [] : [[manner, key] as const],
  );
  return sound.length === nested.length ? Object.fromEntries(sound) : undefined;
}

/**
 * How a control is written that its name alone tells: as the controls are that labelled changes told, with a second key
 * where those have one. Without any of these nothing says what its text means.
 */
export function bindEntry(
  { type }: SettingDefinition,
  rows: readonly KeyRow[],
  table: KeyTable,
  controls: ControlsFound | undefined,
): BindEntry {
  const [first] = rows;
  if (controls === undefined || first === undefined) return { kind: 'open', why: 'how controls are numbered' };
  const codec: EntryWritten = (type.kind === 'bind'
    ? controls.claims.find(({ setting }) => setting.setting.type.kind === 'bind')?.codec
    : undefined) ?? { control: {} };
  const own = { rows: [first], key: first.key, nothing: undefined };
  const [paired = own] =
    withPairs([...controls.claims.map(({ choices }) => choices), [own]], table, controls.learnt.section.nothing).at(
      -1,
    ) ?? [];
  if (rows.every((row) => paired.rows.includes(row)))
    return { kind: 'entry', entry: { key: paired.key, ...codec }, rows: paired.rows };
  const key = keyMap(rows);
  return key === undefined
    ? { kind: 'open', why: 'which of its keys is for which kind of control' }
    : { kind: 'entry', entry: { key, ...codec }, rows };
}
