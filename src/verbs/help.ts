import type { Command } from 'commander';
import { catalogue } from '../diagnostics/catalogue.ts';
import { pageOf } from '../diagnostics/pages.ts';
import { describeSetting } from '../vocabulary/describe.ts';
import { settingById } from '../vocabulary/registry.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { settings } from '../vocabulary/registry.ts';
import { table } from '../report/terminal/table.ts';
import { wrap } from '../report/wrap.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import type { VerbSpec } from './contract.ts';
import { tasks } from './tasks.ts';

export { version } from './version.ts';

/** The page that a lone `thumbwright` prints. */
export function mainHelp(verbs: readonly VerbSpec[]): string {
  const verbLines = verbs.map((verb) => `  ${verb.name.padEnd(9)} ${verb.summary}`);
  const taskLines = tasks.map((task) => `  help ${task.name.padEnd(16)} ${task.title}`);
  return `thumbwright compiles one YAML profile per handheld into the config files of every frontend on it.

Verbs:
${verbLines.join('\n')}
  ${'help'.padEnd(9)} help on a verb, a task, a setting or a finding

By task:
${taskLines.join('\n')}

Also: help VERB; help settings, help saves, help saves.state-on-exit; help CODE of a finding.
Exit status: 0 done; 1 the input has problems, all reported; 2 wrong usage; 3 the disk failed, nothing lost.
`;
}

/** A help text at a width: its paragraphs are laid out anew, and what begins with two blanks stands alone on its line. */
export function laidOut(text: string, width: number): string {
  const joined = text.replace(/([^\n])\n(?! {2}|\n)/g, (whole, last: string, at: number) => {
    const line = text.slice(text.lastIndexOf('\n', at) + 1, at);
    return line.startsWith('  ') ? whole : `${last} `;
  });
  return wrap(joined, width, '');
}

/** Settings with the first sentence of each. */
function settingsList(list: readonly SettingDefinition[]): string {
  const rows = list.map(({ id, description }) => [id, description.replace(/\. .*$/, '.')]);
  return `${table(rows)}\nMore on one of them, as in:\n  thumbwright help ${list[0]?.id ?? ''}\n`;
}

/** Help on a verb, task, setting or finding; undefined when nothing goes by that name. */
export function taskHelp(subject: string, program: Command): string | undefined {
  const verb = program.commands.find((command) => command.name() === subject);
  if (verb !== undefined) return verb.helpInformation();
  const task = tasks.find(({ name, title }) => name === subject || title === subject);
  if (task !== undefined) return `${task.title}\n\n${task.text}`;
  const setting = settingById(subject);
  if (setting !== undefined) return describeSetting(setting);
  if (subject === 'settings') return settingsList(settings);
  const group = settings.filter(({ id }) => id.startsWith(`${subject}.`));
  if (group.length > 0) return settingsList(group);
  const code = Object.keys(catalogue).find((name) => name === subject);
  if (code !== undefined) return pageOf(code);
  const near = nearestNames(subject, [
    ...program.commands.map((command) => command.name()),
    ...tasks.map(({ name }) => name),
    ...settings.map(({ id }) => id),
  ]);
  return near.length === 0
    ? undefined
    : `Nothing is called ${JSON.stringify(subject)}. Did you mean ${near.join(' or ')}?\n`;
}
