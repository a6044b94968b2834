import { describeValue } from '../model/describe-value.ts';
import type { Value } from '../model/value.ts';
import { settingById } from '../vocabulary/registry.ts';
import { count, wrap } from './wrap.ts';

/** One value that a setting was set to, and what came of it. */
interface TrialLine {
  readonly kind: 'reads-back' | 'near' | 'ambiguous' | 'unsaid' | 'refused' | 'reads-otherwise' | 'disturbs';
  readonly value: Value;
  readonly why?: string;
  readonly others?: readonly string[];
}

interface SettingLines {
  readonly setting: string;
  readonly now: { readonly kind: 'value' | 'absent' | 'unreadable' | 'half-changed' };
  readonly trials: readonly TrialLine[];
}

export interface VerifiedLines {
  readonly instance: string;
  readonly dialect: string;
  readonly settings: readonly SettingLines[];
  readonly missing: readonly string[];
}

function fault(trial: TrialLine): string | undefined {
  const value = describeValue(trial.value);
  switch (trial.kind) {
    case 'refused':
      return `set to ${value}, the file cannot take it: ${trial.why ?? ''}`;
    case 'reads-otherwise':
      return `set to ${value}, it does not read back as that`;
    case 'disturbs':
      return `set to ${value}, it changes ${(trial.others ?? []).join(', ')} too`;
    case 'reads-back':
    case 'near':
    case 'ambiguous':
    case 'unsaid':
      return undefined;
  }
}

/** What came of playing a dialect through: what does not round-trip first, then what cannot be told apart, then the sum. */
export function verifyText({ instance, dialect, settings, missing }: VerifiedLines, width: number): string {
  const lines: string[] = [];
  const say = (text: string): void => void lines.push(wrap(text, width, ''));
  for (const path of missing) say(`${path} is not in the folder: its settings were set in an empty file.`);
  let faults = 0;
  for (const { setting, now, trials } of settings) {
    const found = trials.flatMap((trial) => fault(trial) ?? []);
    faults += found.length;
    // A secret's text is nobody's to tell: its key is there, and that is all.
    const secret = settingById(setting)?.type.kind === 'secret';
    if (now.kind === 'unreadable' && !secret) say(`${setting}: what the folder has, no value of it spells`);
    if (now.kind === 'half-changed') say(`${setting}: its keys in the folder do not agree`);
    for (const one of found) say(`${setting}: ${one}`);
  }
  const alike = settings.filter(({ trials }) => trials.some(({ kind }) => kind === 'ambiguous'));
  for (const { setting, trials } of alike) {
    const values = trials.filter(({ kind }) => kind === 'ambiguous').map(({ value }) => describeValue(value));
    say(`${setting}: ${values.join(', ')} ${values.length === 1 ? 'is' : 'are'} spelled as something else is too`);
  }
  const read = settings.filter(({ now }) => now.kind === 'value').length;
  const tried = settings.reduce((sum, { trials }) => sum + trials.filter(({ kind }) => kind !== 'unsaid').length, 0);
  say(
    `${dialect} on ${instance}: ${count(settings.length, 'setting')}, ${read} of them read from the folder; set to ${count(tried, 'value')}: ${faults === 0 ? 'all came back' : `${faults} did not come back`}.`,
  );
  return `${lines.join('\n')}\n`;
}
