import { mergeFacts } from '../2-resolve/merge-facts.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { prepareProfile } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { encodeText } from '../text/encoding.ts';
import { applyEdits } from '../text/text-edit.ts';
import { editYaml } from '../yaml-edit/edit-yaml.ts';
import type { YamlChange } from '../yaml-edit/edit-yaml.ts';
import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';

const facts = ['catalog', 'device', 'frontends'] as const;
const kept: ReadonlySet<string> = new Set(['profile', 'format', 'name', ...facts]);

/**
 * A profile of the same device as another one, without any setting: its device, frontends and catalog alone, with those
 * that its layers give. Undefined when the other one cannot be read.
 */
export function profileLike(project: Project, path: HostPath, name: string): Outcome<string | undefined> {
  const { parts, findings } = prepareProfile(project, path, false);
  const layers = parts?.layers.map(({ document }) => document) ?? [];
  const profile = layers.at(-1);
  if (profile === undefined) return { value: undefined, findings };
  const { source, data } = profile;
  const merged = mergeFacts(layers);
  const changes: YamlChange[] = Object.keys(data)
    .filter((member) => !kept.has(member))
    .map((member) => ({ op: 'remove', path: [member] }));
  changes.push({ op: 'set', path: ['profile'], value: name });
  changes.push({ op: 'set', path: ['name'], value: name.charAt(0).toUpperCase() + name.slice(1) });
  for (const fact of facts) {
    const below = layers.slice(0, -1).some((layer) => layer.data[fact] !== undefined);
    const value: unknown = merged[fact];
    if (below && isPlain(value)) changes.push({ op: 'set', path: [fact], value });
  }
  const edited = editYaml(source, changes);
  const bad: readonly Finding[] = edited.findings.filter(({ grade }) => grade === 'error');
  return bad.length > 0
    ? { value: undefined, findings: bad }
    : { value: applyEdits(source.text, edited.value), findings: [] };
}

/** The disk as it would be with one more file. */
export function withFile(files: Files, path: HostPath, text: string): Files {
  const bytes = encodeText(text);
  return {
    read: (at, limit) => (at === path ? { kind: 'bytes', bytes } : files.read(at, limit)),
    kind: (at) => (at === path ? 'file' : files.kind(at)),
    list: (at) => files.list(at),
    real: (at) => (at === path ? path : files.real(at)),
    ...(files.mode === undefined ? {} : { mode: (at: HostPath) => files.mode?.(at) }),
    write: (at, content, mode) => files.write(at, content, mode),
    remove: (at) => files.remove(at),
    join: (folder, ...members) => files.join(folder, ...members),
  };
}

function isPlain(value: unknown): value is PlainYaml {
  if (value === null || ['boolean', 'number', 'string'].includes(typeof value)) return true;
  if (Array.isArray(value)) return value.every(isPlain);
  return typeof value === 'object' && Object.values(value ?? {}).every(isPlain);
}
