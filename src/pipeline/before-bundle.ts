import { printRecord } from '../4-plan/print-record.ts';
import { readSource } from '../1-load/find-file.ts';
import { readRecord } from '../1-load/read-record.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { WriteResult } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { Project } from '../pipeline.ts';
import { encodeText } from '../text/encoding.ts';

type Card = Pick<CardRecord, 'device' | 'card'>;

/** The record as it was before the last bundle, and the bundle's seal (its first 16 digits) where a log told it. */
interface KeptBefore {
  readonly path: HostPath;
  readonly name: string;
  readonly seal: string | undefined;
}

function found({ files, root }: Project, { device, card }: Card): KeptBefore | undefined {
  const folder = files.join(root, '.thumbwright', 'cards');
  for (const { name, kind } of files.list(folder) ?? []) {
    if (kind !== 'file' || !name.startsWith(`${device}-${card}.before`)) continue;
    const [all, seal] = /\.before(?:\.([0-9a-f]{16}))?\.yaml$/.exec(name) ?? [];
    if (all !== undefined) return { path: files.join(folder, name), name: `.thumbwright/cards/${name}`, seal };
  }
  return undefined;
}

/**
 * Keeps a record that a bundle is about to put another one for: the device can still take the bundle back. What is kept
 * already is what stood before all of it, and stays. `seal`: of the bundle, where a log tells it.
 */
export function keepBefore(project: Project, was: CardRecord, seal: string | undefined): WriteResult {
  const { files, root } = project;
  const kept = found(project, was);
  if (kept !== undefined) return { kind: 'done' };
  const name = `${was.device}-${was.card}.before${seal === undefined ? '' : `.${seal.slice(0, 16)}`}.yaml`;
  return files.write(
    files.join(root, '.thumbwright', 'cards', name),
    encodeText(printRecord({ ...was, state: 'written' })),
  );
}

/**
 * What stood before the bundle of a seal. Undefined where nothing is kept, or that of another bundle. Error: `bad-record`
 * where it is damaged.
 */
export function beforeBundle(project: Project, card: Card, seal: string | undefined): Outcome<CardRecord | undefined> {
  const kept = found(project, card);
  if (kept === undefined || (kept.seal !== undefined && kept.seal !== seal?.slice(0, 16)))
    return { value: undefined, findings: [] };
  const source = readSource(project.files, kept.path, kept.name);
  return source.value === undefined ? { value: undefined, findings: source.findings } : readRecord(source.value);
}

/** Nothing of it can be taken back any more, or it was. */
export function dropBefore(project: Project, card: Card): WriteResult {
  const kept = found(project, card);
  return kept === undefined ? { kind: 'done' } : project.files.remove(kept.path);
}
