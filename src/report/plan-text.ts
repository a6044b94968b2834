import { plainText } from '../model/plain-text.ts';
import { visible } from '../diagnostics/visible.ts';
import type { KeyClass, Plan, PlannedFile, PlannedKey, Shown } from '../model/plan.ts';
import type { KeyText } from '../model/compiled.ts';
import { secretPlaceholder } from '../model/secret-placeholder.ts';
import { scopeText } from './fidelity.ts';
import { table } from './terminal/table.ts';
import { count } from './wrap.ts';

/** Each class of key in a word or two, as it is shown. */
const className: Readonly<Record<KeyClass, string>> = {
  same: 'the same',
  'first-time': 'first time',
  'profile-changed': 'profile changed',
  reset: 'reset',
  'changed-by-hand': 'changed by hand',
  'both-changed': 'both changed',
  moved: 'moved',
  'let-go': 'let go',
  'key-gone': 'gone',
  'file-gone': 'file gone',
  volatile: 'changes in play',
  consumed: 'taken in',
  'let-alone': 'let alone',
  answered: 'as you said',
};

const longestShown = 40;

/** What a key holds, short enough for a line; a secret by its name. */
export function shownText(shown: Shown): string {
  if (shown.kind === 'absent') return '(not there)';
  if (shown.kind === 'secret')
    return shown.names.length === 0 ? '(hidden)' : shown.names.map(secretPlaceholder).join(' ');
  return valueText(shown.value);
}

function valueText(value: KeyText): string {
  const text = visible(plainText(value));
  if (text === '') return '(empty)';
  return text.length > longestShown ? `${text.slice(0, longestShown - 1)}…` : text;
}

/** Counts of the classes that are written, most first: `12 reset, 1 moved`. */
function tallyOf(keys: readonly PlannedKey[]): string {
  const counts = new Map<string, number>();
  for (const key of keys) counts.set(className[key.class], (counts.get(className[key.class]) ?? 0) + 1);
  return [...counts]
    .sort(([, a], [, b]) => b - a)
    .map(([name, number]) => `${number} ${name}`)
    .join(', ');
}

function fileRow(file: PlannedFile): readonly string[] {
  const written = file.keys.filter((key) => key.act === 'write');
  switch (file.act) {
    case 'whole':
      return [file.path, file.before === undefined ? 'a new file, wholly ours' : 'wholly ours, written anew'];
    case 'remove':
      return [file.path, 'wholly ours and let go: removed'];
    case 'restore':
      return [file.path, 'let go: what stood there before comes back'];
    case 'change':
      return [
        file.path,
        `${file.before === undefined ? 'a new file, ' : ''}${count(written.length, 'key')}${written.length === 0 ? '' : `: ${tallyOf(written)}`}`,
      ];
    case 'nothing':
      return [file.path, 'as it is'];
  }
}

function keyRow(file: PlannedFile, key: PlannedKey): readonly string[] {
  const scope = Object.keys(key.scope).length === 0 ? '' : `, ${scopeText(key.scope)}`;
  const at = key.cardLine === undefined ? file.path : `${file.path}:${key.cardLine}`;
  const from = key.origin === undefined ? '' : ` (${key.origin.file}:${key.origin.line})`;
  return [
    `${key.setting}${key.item === undefined ? '' : ` ${key.item}`}, ${key.instance}${scope}`,
    `  ${className[key.class]}: ${visible(key.key)} in ${at}`,
    key.act === 'write'
      ? `  ${shownText(key.from)} becomes ${shownText(key.to)}${from}`
      : `  the card has ${shownText(key.from)}; ${key.to.kind === 'absent' ? 'the profile wants it not there' : `the profile says ${shownText(key.to)}`}${from}`,
  ];
}

/** Classes that a person has to be told of key by key; the others are counted. */
const told: ReadonlySet<KeyClass> = new Set([
  'profile-changed',
  'reset',
  'changed-by-hand',
  'both-changed',
  'moved',
  'let-go',
  'key-gone',
  'consumed',
]);

/**
 * What a plan will do and what it leaves, for a terminal. `all`: every key that is written, not only the telling ones,
 * and what changed in play.
 */
export function planText(plan: Plan, all: boolean): string {
  const acting = plan.files.filter((file) => file.act !== 'nothing');
  const parts: string[] = [];
  if (acting.length > 0) parts.push(`To be written:\n${table(acting.map(fileRow), '  ')}`);
  const written = rows(plan, (key) => key.act === 'write' && (all || told.has(key.class)));
  if (written.length > 0) parts.push(`Key by key:\n${block(written)}`);
  const kept = rows(plan, (key) => key.act === 'keep' && (told.has(key.class) || (all && key.class === 'volatile')));
  if (kept.length > 0) parts.push(`Kept as the card has it:\n${block(kept)}`);
  if (plan.saveRisks.length > 0) {
    const risks = plan.saveRisks.map((risk) => `  ${risk.setting}, ${risk.instance}: ${risk.what}\n`);
    parts.push(`Saves and states are at stake:\n${risks.join('')}`);
  }
  return parts.join('\n');
}

function rows(plan: Plan, wanted: (key: PlannedKey) => boolean): readonly (readonly string[])[] {
  return plan.files.flatMap((file) => file.keys.filter(wanted).map((key) => keyRow(file, key)));
}

function block(entries: readonly (readonly string[])[]): string {
  return entries.map((lines) => lines.map((line) => `  ${line}\n`).join('')).join('');
}
