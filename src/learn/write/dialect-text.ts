import type { EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import { settings as registry } from '../../vocabulary/registry.ts';
import type { Role } from '../../vocabulary/types.ts';
import type { Learnt, LearntFile, Proposal } from '../contract.ts';
import { mergeScopes } from './merge-scopes.ts';
import { rolesOf } from './roles-of.ts';
import { writtenFile } from './written-file.ts';
import { yamlFlow } from './yaml-flow.ts';
import type { Plain } from './yaml-flow.ts';

/** What a dialect file is written from. */
export interface DialectParts {
  readonly name: string;
  /** As said; a setting that is taken and that none of them is asked for adds its own. */
  readonly roles: readonly Role[];
  /** What is taken: all that is sure, and what a person said yes to. */
  readonly taken: readonly Proposal[];
  /** Whether the controls' section is taken. */
  readonly controls: boolean;
  readonly learnt: Learnt;
}

/** How a line was learnt, for the comment above it. */
export function howLearnt({ grade, evidence, rivals }: Proposal): string {
  const against = rivals.length === 0 ? '' : `; said yes to, against ${rivals.join(', ')}`;
  return oneLine(`learnt${grade === 'sure' ? '' : ` (${grade})`}: ${evidence.join('; ')}${against}`);
}

/** Text of files may be in it: no line end may leave a comment. */
function oneLine(text: string): string {
  return text.replace(/[\0-\x1f\x7f\u0085\u2028\u2029]+/g, ' ');
}

function usedFiles(
  files: readonly LearntFile[],
  entries: readonly (EntryWritten | readonly EntryWritten[])[],
): readonly LearntFile[] {
  const text = JSON.stringify(entries);
  return files.filter(
    ({ id }) => text.includes(`"file":"${id}"`) || new RegExp(`"(instance|core|system|game)":"${id}"`).test(text),
  );
}

/** A new dialect file, with a comment above each line that says how it was learnt, and what is only possible below. */
export function dialectText({ name, roles, taken, controls, learnt }: DialectParts): string {
  const merged = mergeScopes(taken);
  const order = registry.map(({ id }) => id).filter((id) => Object.hasOwn(merged, id));
  const scoped = taken.some(({ scope }) => scope.system !== undefined);
  const files = usedFiles(learnt.files, Object.values(merged));
  const [role, ...more] = rolesOf(roles, taken);
  const lines = [
    `# Written by learn. A comment above each line says how it was learnt.`,
    `dialect: ${name}`,
    'format: 1',
    'version: 0.1.0',
    'for-versions: ">=0"',
    `role: ${more.length === 0 ? role : yamlFlow(plain([role, ...more]))}`,
    files.length === 0 ? 'files: {}' : 'files:',
    ...files.map((file) => `  ${file.id}: ${yamlFlow(plain(writtenFile(file)))}`),
    ...(scoped ? ['order: [instance, system]'] : []),
  ];
  if (controls && learnt.controls !== undefined) {
    lines.push('controls:', ...learnt.controls.evidence.map((line) => `  # learnt: ${oneLine(line)}`));
    for (const [member, value] of Object.entries(learnt.controls.section))
      lines.push(`  ${member}: ${yamlFlow(plain(value))}`);
  }
  lines.push(order.length === 0 ? 'settings: {}' : 'settings:');
  for (const id of order) {
    for (const proposal of taken) if (proposal.setting.id === id) lines.push(`  # ${howLearnt(proposal)}`);
    lines.push(`  ${id}: ${yamlFlow(plain(merged[id] ?? {}))}`);
  }
  const open = openLines(learnt.proposals.filter((proposal) => !taken.includes(proposal)));
  if (open.length > 0) lines.push('# Not taken: nobody said yes to these, or they are not told yet.', ...open);
  return `${lines.join('\n')}\n`;
}

/** What was not taken, a comment line each; of secrets nothing. */
export function openLines(left: readonly Proposal[]): readonly string[] {
  return left
    .filter((proposal) => !isSecret(proposal))
    .map(({ setting, entry, grade, open }) => {
      const lacking = open === undefined ? '' : ` (not known yet: ${open})`;
      return oneLine(`# ${grade}: ${setting.id}: ${yamlFlow(plain(entry))}${lacking}`);
    });
}

function isSecret({ setting }: Proposal): boolean {
  return setting.type.kind === 'secret';
}

/** Typed data as plain data; what is undefined falls away. */
export function plain(value: unknown): Plain {
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return value;
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value === 'object' && value !== null)
    return Object.fromEntries(
      Object.entries(value).flatMap(([key, member]) => (member === undefined ? [] : [[key, plain(member)] as const])),
    );
  throw new Error('A dialect was made of something that is no data. This is a bug in thumbwright.');
}
