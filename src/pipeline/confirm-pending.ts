import type { CardFolders } from '../1-load/base-files.ts';
import type { WriteResult } from '../files/contract.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { Project } from '../pipeline.ts';
import { cardRecords } from './card-records.ts';
import { givenParts } from './given-parts.ts';
import { keepConfirmed, pendingRecord, settlePending, toldByText } from './pending-record.ts';
import type { SettledPending } from './pending-record.ts';
import { cardReader } from './plan-write.ts';
import { privateKey } from './private-store.ts';

/** What is known of a card of which a bundle is under way, by the parts at hand. */
export function settleByParts(
  project: Project,
  record: CardRecord,
  folders: ReadonlyMap<string, HostPath>,
): SettledPending | undefined {
  const will = pendingRecord(project, record);
  if (will === undefined) return undefined;
  const read = cardReader(project.files, folders);
  const told = toldByText(record, will, privateKey(project) ?? '', (path) => {
    const text = read(path);
    return text.kind === 'text' ? text.source : undefined;
  });
  return settlePending(record, will, (path) => (folders.has(splitCardPath(path).part) ? told(path) : undefined));
}

export interface Confirmed {
  readonly card: string;
  readonly settled: SettledPending;
  readonly kept: WriteResult;
}

/** Holds what was fetched against the bundles that are under way to a device, and keeps what it tells. */
export function confirmByTree(project: Project, device: string, tree: HostPath): readonly Confirmed[] {
  return confirm(project, device, undefined, (record) => {
    const parts = new Set(record.files.map(({ path }) => splitCardPath(path).part));
    const will = pendingRecord(project, record);
    for (const { path } of will?.files ?? []) parts.add(splitCardPath(path).part);
    const whole: CardFolders = { whole: tree, parts: new Map() };
    const folders = new Map(
      [...givenParts(project.files, [...parts, ''], whole).folders].filter(([name]) => name !== ''),
    );
    return settleByParts(project, record, folders);
  });
}

/** The same by the log that an installer left. Undefined: the text is no log. */
export function confirmByLog(project: Project, text: string): readonly Confirmed[] | undefined {
  const lines = text.split(/\r?\n/);
  const field = (name: string): string | undefined =>
    lines.find((line) => line.startsWith(`${name}: `))?.slice(name.length + 2);
  const [device, card] = [field('device'), field('card')];
  if (lines[0] !== 'thumbwright bundle' || device === undefined || card === undefined || !lines.includes('end: log'))
    return undefined;
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(device) || !/^[0-9a-f]{16}$/.test(card)) return undefined;
  const done = new Set<string>();
  const not = new Set<string>();
  for (const line of lines) {
    const [, how, path = ''] = /^file: (\S+) (.*)$/.exec(line) ?? [];
    if (how === 'done' || how === 'same') done.add(path);
    else if (how !== undefined) not.add(path.replace(/: .*$/, ''));
  }
  return confirm(project, device, card, (record) => {
    const will = pendingRecord(project, record);
    if (will === undefined || field('state') === 'undone') return undefined;
    return settlePending(record, will, (path: CardPath) => (done.has(path) ? true : not.has(path) ? false : undefined));
  });
}

function confirm(
  project: Project,
  device: string,
  card: string | undefined,
  settle: (record: CardRecord) => SettledPending | undefined,
): readonly Confirmed[] {
  return cardRecords(project, device).value.flatMap((record) => {
    if (record.state !== 'pending' || (card !== undefined && record.card !== card)) return [];
    const settled = settle(record);
    if (settled === undefined) return [];
    // Nothing is news where nothing has come yet.
    const kept: WriteResult =
      settled.installed.length === 0 ? { kind: 'done' } : keepConfirmed(project, settled.record);
    return [{ card: record.card, settled, kept }];
  });
}
