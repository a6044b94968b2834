import { readSource } from '../1-load/find-file.ts';
import { readRecord } from '../1-load/read-record.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { Project } from '../pipeline.ts';

/** The committed record of a card. */
export function recordPath({ files, root }: Project, device: string, card: string): HostPath {
  return files.join(root, '.thumbwright', 'cards', `${device}-${card}.yaml`);
}

/** The folder, in the private part of the workspace, of what is kept of a card. */
export function storePath({ files, root }: Project, card: string): HostPath {
  return files.join(root, '.thumbwright', 'private', 'cards', card);
}

/** Records of the cards of one device. A damaged one is an error: without it hand changes could not be told. */
export function cardRecords(project: Project, device: string): Outcome<readonly CardRecord[]> {
  const { files, root } = project;
  const folder = files.join(root, '.thumbwright', 'cards');
  const findings: Finding[] = [];
  const records: CardRecord[] = [];
  for (const { name, kind } of files.list(folder) ?? []) {
    if (kind !== 'file' || !name.startsWith(`${device}-`) || !/-[0-9a-f]{16}\.yaml$/.test(name)) continue;
    const source = readSource(files, files.join(folder, name), `.thumbwright/cards/${name}`);
    const read = source.value === undefined ? undefined : readRecord(source.value);
    findings.push(...source.findings, ...(read?.findings ?? []));
    if (read?.value?.device === device) records.push(read.value);
  }
  return { value: records, findings };
}
