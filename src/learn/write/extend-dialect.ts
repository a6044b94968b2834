import type { DialectDocument } from '../../model/document.ts';
import type { EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import { settings as registry } from '../../vocabulary/registry.ts';
import { applyEdits } from '../../text/text-edit.ts';
import { editYaml } from '../../yaml-edit/edit-yaml.ts';
import type { YamlChange } from '../../yaml-edit/edit-yaml.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { DialectParts } from './dialect-text.ts';
import { howLearnt, openLines, plain } from './dialect-text.ts';
import { joinCodecs, mergeScopes } from './merge-scopes.ts';
import { rolesOf } from './roles-of.ts';
import { writtenFile } from './written-file.ts';
import type { Plain } from './yaml-flow.ts';

export interface Extended {
  readonly text: string;
  /** Settings that the dialect spells otherwise already: its own spelling stays. */
  readonly otherwise: readonly string[];
  readonly findings: readonly Finding[];
}

/**
 * A dialect with what was learnt besides. What it says already stays: a table of values gets the words that are new, and an
 * entry that contradicts is told and left.
 */
export function extendDialect(document: DialectDocument, { taken, controls, learnt }: DialectParts): Extended {
  const { files, role, settings } = document.data;
  const ids = new Map<string, string>();
  const changes: YamlChange[] = [];
  const used = JSON.stringify(mergeScopes(taken));
  for (const file of learnt.files) {
    const own = Object.entries(files).find(([, { path }]) => path === `{{root}}/${file.path}`);
    let id = own?.[0] ?? file.id;
    for (let count = 2; own === undefined && Object.hasOwn(files, id); count++) id = `${file.id}-${count}`;
    ids.set(file.id, id);
    if (own === undefined && used.includes(`"${file.id}"`))
      changes.push({ op: 'set', path: ['files', id], value: data(plain(writtenFile(file))) });
  }
  if (controls && document.data.controls === undefined && learnt.controls !== undefined)
    changes.push({ op: 'set', path: ['controls'], value: data(plain(learnt.controls.section)) });
  const said = typeof role === 'string' ? [role] : role;
  const roles = rolesOf(said, taken);
  if (roles.length > said.length) changes.push({ op: 'set', path: ['role'], value: roles });
  const otherwise: string[] = [];
  const added: string[] = [];
  for (const [id, entry] of Object.entries(mergeScopes(taken))) {
    const renamed = renameFiles(entry, ids);
    const standing = settings[id];
    const next = standing === undefined ? renamed : joined(standing, renamed);
    if (next === undefined) otherwise.push(id);
    else if (JSON.stringify(next) !== JSON.stringify(standing)) {
      changes.push({
        op: 'set',
        path: ['settings', id],
        value: data(plain(next)),
        order: registry.map((one) => one.id),
      });
      added.push(id);
    }
  }
  const { value: edits, findings } = editYaml(document.source, changes);
  const lines = applyEdits(document.source.text, edits).split('\n');
  for (const id of added) {
    const at = lines.findIndex((line) => new RegExp(`^\\s+["']?${id.replaceAll('.', '\\.')}["']?:`).test(line));
    const indent = /^\s*/.exec(lines[at] ?? '')?.[0] ?? '';
    const own = taken.filter(({ setting }) => setting.id === id).map((proposal) => `${indent}# ${howLearnt(proposal)}`);
    if (at >= 0) lines.splice(at, 0, ...own);
  }
  const left = learnt.proposals
    .filter((proposal) => !taken.includes(proposal) && !Object.hasOwn(settings, proposal.setting.id))
    .map((proposal) => ({ ...proposal, entry: renameOne(proposal.entry, ids) }));
  return { text: withOpen(lines, openLines(left), added).join('\n'), otherwise, findings };
}

/** Comment lines of what is open put at the end, those that stand there once; of what was taken now none is left. */
function withOpen(lines: readonly string[], open: readonly string[], added: readonly string[]): readonly string[] {
  const own = /^# (?:likely|possible): ([a-z0-9.-]+): /;
  const kept = lines.filter((line) => !added.includes(own.exec(line)?.[1] ?? ''));
  const fresh = open.filter((line) => !kept.includes(line));
  return fresh.length === 0 ? kept : kept.at(-1) === '' ? [...kept.slice(0, -1), ...fresh, ''] : [...kept, ...fresh];
}

function joined(
  standing: EntryWritten | readonly EntryWritten[],
  learnt: EntryWritten | readonly EntryWritten[],
): EntryWritten | readonly EntryWritten[] | undefined {
  if (JSON.stringify(standing) === JSON.stringify(learnt)) return standing;
  return isOne(standing) && isOne(learnt) ? joinCodecs(standing, learnt) : undefined;
}

function isOne(entry: EntryWritten | readonly EntryWritten[]): entry is EntryWritten {
  return !Array.isArray(entry);
}

function renameFiles<T extends EntryWritten | readonly EntryWritten[]>(
  entry: T,
  ids: ReadonlyMap<string, string>,
): EntryWritten | readonly EntryWritten[] {
  if (!isOne(entry)) return entry.map((one) => renameOne(one, ids));
  return renameOne(entry, ids);
}

function renameOne(entry: EntryWritten, ids: ReadonlyMap<string, string>): EntryWritten {
  const rename = (file: NonNullable<EntryWritten['file']>): NonNullable<EntryWritten['file']> =>
    typeof file === 'string'
      ? (ids.get(file) ?? file)
      : Object.fromEntries(Object.entries(file).map(([scope, id]) => [scope, ids.get(id) ?? id]));
  return {
    ...entry,
    ...(entry.file === undefined ? {} : { file: rename(entry.file) }),
    ...(entry.writes === undefined
      ? {}
      : {
          writes: entry.writes.map((write) =>
            write.file === undefined ? write : { ...write, file: rename(write.file) },
          ),
        }),
  };
}

type Data = string | number | boolean | readonly Data[] | { readonly [name: string]: Data };

/** Without members that are undefined, which YAML cannot hold. */
function data(value: Plain): Data {
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return value;
  if (isData(value)) return value.map(data);
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, member]) => (member === undefined ? [] : [[key, data(member)] as const])),
  );
}

function isData(value: Plain): value is readonly Plain[] {
  return Array.isArray(value);
}
