import type { CardFolders } from '../1-load/base-files.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { WriteResult } from '../files/contract.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { Project } from '../pipeline.ts';
import { beforeBundle } from './before-bundle.ts';
import { cardRecords } from './card-records.ts';
import { givenParts } from './given-parts.ts';
import { keepConfirmed, keepUndone, pendingRecord, settlePending, toldByText } from './pending-record.ts';
import type { SettledPending } from './pending-record.ts';
import { cardReader } from './plan-write.ts';
import { privateKey } from './private-store.ts';

/**
 * What is known of a card of which a bundle is under way, by the parts at hand. Findings: `bad-record`, of what is kept
 * of the bundle.
 */
export function settleByParts(
  project: Project,
  record: CardRecord,
  folders: ReadonlyMap<string, HostPath>,
): Outcome<SettledPending | undefined> {
  const { value: will, findings } = pendingRecord(project, record);
  if (will === undefined) return { value: undefined, findings };
  const read = cardReader(project.files, folders);
  const told = toldByText(record, will, privateKey(project) ?? '', (path) => {
    const text = read(path);
    return text.kind === 'text' ? text.source : undefined;
  });
  const settled = settlePending(record, will, (path) =>
    folders.has(splitCardPath(path).part) ? told(path) : undefined,
  );
  return { value: settled, findings };
}

/** What became of one card's bundle, and whether it could be kept. */
export type Confirmed =
  | { readonly kind: 'settled'; readonly card: string; readonly settled: SettledPending; readonly kept: WriteResult }
  /** The device took it back. `stays`: files that were changed since, and are as they are. */
  | { readonly kind: 'undone'; readonly card: string; readonly stays: readonly CardPath[]; readonly kept: WriteResult };

type ConfirmedAll = Outcome<readonly Confirmed[]>;

/** Holds what was fetched against the bundles that are under way to a device, and keeps what it tells. */
export function confirmByTree(project: Project, device: string, tree: HostPath): ConfirmedAll {
  return forEach(cardRecords(project, device).value, (record) => {
    const { value: will, findings } = pendingRecord(project, record);
    if (will === undefined) return { value: [], findings };
    const parts = new Set([...record.files, ...will.files].map(({ path }) => splitCardPath(path).part));
    const whole: CardFolders = { whole: tree, parts: new Map() };
    const folders = new Map(
      [...givenParts(project.files, [...parts, ''], whole).folders].filter(([name]) => name !== ''),
    );
    const settled = settleByParts(project, record, folders).value;
    return { value: settled === undefined ? [] : [keep(project, record, settled, undefined)], findings };
  });
}

/** The same by the log that an installer left. Undefined: the text is no log. */
export function confirmByLog(project: Project, text: string): ConfirmedAll | undefined {
  const log = readLog(text);
  if (log === undefined) return undefined;
  const records = cardRecords(project, log.device).value.filter(({ card }) => card === log.card);
  return forEach(records, (record) => {
    const pending = pendingRecord(project, record);
    if (log.state === 'undone') return takenBack(project, record, pending, log);
    if (pending.value === undefined) return { value: [], findings: pending.findings };
    const settled = settlePending(record, pending.value, (path) => {
      const how = log.files.get(path);
      return how === undefined ? undefined : how === 'done' || how === 'same';
    });
    return { value: [keep(project, record, settled, log.seal)], findings: [] };
  });
}

interface Log {
  readonly seal: string;
  readonly device: string;
  readonly card: string;
  readonly state: string | undefined;
  /** What became of each file, in one word: done, same, waiting, refused, undone, stays. */
  readonly files: ReadonlyMap<string, string>;
}

function readLog(text: string): Log | undefined {
  const lines = text.split(/\r?\n/);
  const field = (name: string): string | undefined =>
    lines.find((line) => line.startsWith(`${name}: `))?.slice(name.length + 2);
  const [device, card] = [field('device'), field('card')];
  if (lines[0] !== 'thumbwright bundle' || device === undefined || card === undefined || !lines.includes('end: log'))
    return undefined;
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(device) || !/^[0-9a-f]{16}$/.test(card)) return undefined;
  const files = new Map<string, string>();
  for (const line of lines) {
    const [, how, path = ''] = /^file: (\S+) (.*)$/.exec(line) ?? [];
    if (how !== undefined)
      files.set(how === 'done' || how === 'same' || how === 'undone' ? path : path.replace(/: .*$/, ''), how);
  }
  return { seal: field('seal') ?? '', device, card, state: field('state'), files };
}

/** The record goes back to what stood before the bundle, but for files that were changed since: they keep what we wrote. */
function takenBack(
  project: Project,
  record: CardRecord,
  pending: Outcome<CardRecord | undefined>,
  log: Log,
): ConfirmedAll {
  const kept = beforeBundle(project, record, log.seal);
  // A record that says pending is itself what stood before, unless a part of the bundle was confirmed.
  const was = kept.value ?? (record.state === 'pending' ? record : undefined);
  if (was === undefined || kept.findings.length > 0) return { value: [], findings: kept.findings };
  const will = pending.value ?? record;
  const settled = settlePending(was, will, (path) => log.files.get(path) === 'stays');
  const stays = settled.installed;
  const back = { ...(stays.length > 0 ? settled.record : was), state: 'written' } as const;
  return {
    value: [{ kind: 'undone', card: record.card, stays, kept: keepUndone(project, back) }],
    // What is kept of the bundle goes now, damaged or not.
    findings: [],
  };
}

function keep(project: Project, was: CardRecord, settled: SettledPending, seal: string | undefined): Confirmed {
  // Nothing is news where nothing has come yet.
  const kept: WriteResult =
    settled.installed.length === 0 ? { kind: 'done' } : keepConfirmed(project, was, settled.record, seal);
  return { kind: 'settled', card: was.card, settled, kept };
}

function forEach(records: readonly CardRecord[], work: (record: CardRecord) => ConfirmedAll): ConfirmedAll {
  const all = records.map(work);
  return { value: all.flatMap(({ value }) => value), findings: all.flatMap(({ findings }) => findings) };
}
