import { printRecord } from '../4-plan/print-record.ts';
import { contentOf, sameContent } from '../4-plan/held.ts';
import { readKeys } from '../4-plan/read-keys.ts';
import { placeIn } from '../4-plan/subject.ts';
import { styleOf } from '../dialect/style-of.ts';
import { readSource } from '../1-load/find-file.ts';
import { readRecord } from '../1-load/read-record.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { WriteResult } from '../files/contract.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { CardRecord, Held, RecordedFile } from '../model/record.ts';
import type { Project } from '../pipeline.ts';
import { syntaxes } from '../syntax/registry.ts';
import { encodeText } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import { dropBefore, keepBefore } from './before-bundle.ts';
import { recordPath } from './card-records.ts';
import { fingerprintOf } from './plan-write.ts';

/** The record as it will stand when the device has installed a bundle; beside the one that holds until then. */
function pendingPath({ files, root }: Project, device: string, card: string): HostPath {
  return files.join(root, '.thumbwright', 'cards', `${device}-${card}.pending.yaml`);
}

/**
 * What a bundle will have done once it is installed; undefined where none is pending. `bad-record`: an error where what
 * is kept of it is damaged, a warning where nothing is.
 */
export function pendingRecord(project: Project, record: CardRecord): Outcome<CardRecord | undefined> {
  if (record.state !== 'pending') return { value: undefined, findings: [] };
  const { device, card } = record;
  const path = pendingPath(project, device, card);
  const name = `.thumbwright/cards/${device}-${card}.pending.yaml`;
  if (project.files.kind(path) === undefined)
    return {
      value: undefined,
      findings: [
        makeFinding('bad-record', {
          grade: 'warning',
          detail: `A bundle is under way to the card ${card} of ${device}, and ${name}, which says what it does, is not there: what it wrote cannot be told from changes made by hand.`,
          wayOut: `Restore ${name} from your version control. Without a copy, write with --take-profile once the device has installed the bundle.`,
        }),
      ],
    };
  const source = readSource(project.files, path, name);
  if (source.value === undefined) return { value: undefined, findings: source.findings };
  const read = readRecord(source.value);
  const wayOut = `Restore ${name} from your version control. Without a copy, remove it: what the bundle wrote then counts as changed by hand, and write asks about it.`;
  if (read.value === undefined)
    return { value: undefined, findings: read.findings.map((finding) => ({ ...finding, wayOut })) };
  if (read.value.device === device && read.value.card === card) return { value: read.value, findings: [] };
  return {
    value: undefined,
    findings: [
      makeFinding('bad-record', {
        detail: `It is of the card ${visible(read.value.card)} of ${visible(read.value.device)}, not of ${card} of ${device}, which its name says.`,
        wayOut,
        place: { source: source.value, span: { start: 0, end: 0 } },
      }),
    ],
  };
}

/** Keeps that a bundle is under way: the record that was, marked, and the one to be. */
export function keepPending(project: Project, was: CardRecord | undefined, will: CardRecord): WriteResult {
  const { device, card } = will;
  const now: CardRecord = {
    ...(was ?? { device, card, instances: new Map(), files: [] }),
    state: 'pending',
  };
  return inTurn(
    // An earlier one can be taken back no more: the device takes back the last first.
    () => dropBefore(project, will),
    () =>
      project.files.write(pendingPath(project, device, card), encodeText(printRecord({ ...will, state: 'pending' }))),
    () => project.files.write(recordPath(project, device, card), encodeText(printRecord(now))),
  );
}

/**
 * Puts what is known to be on the card for the record that was, which is kept: the device can take the bundle back.
 * `seal`: the bundle's, where a log told it.
 */
export function keepConfirmed(
  project: Project,
  was: CardRecord,
  record: CardRecord,
  seal: string | undefined,
): WriteResult {
  const { device, card, state } = record;
  return inTurn(
    () => keepBefore(project, was, seal),
    () => project.files.write(recordPath(project, device, card), encodeText(printRecord(record))),
    () => (state === 'pending' ? { kind: 'done' } : dropPendingFile(project, device, card)),
  );
}

/** Puts back what stood before a bundle that the device has taken back; no record where there was none. */
export function keepUndone(project: Project, record: CardRecord): WriteResult {
  const { device, card, files, instances } = record;
  const path = recordPath(project, device, card);
  const none = files.length === 0 && instances.size === 0;
  return inTurn(
    () => (none ? removed(project, path) : project.files.write(path, encodeText(printRecord(record)))),
    () => dropPending(project, device, card),
  );
}

/** Takes away what is kept of bundles, once the record no longer says that one is pending. */
export function dropPending(project: Project, device: string, card: string): WriteResult {
  return inTurn(
    () => dropPendingFile(project, device, card),
    () => dropBefore(project, { device, card }),
  );
}

function dropPendingFile(project: Project, device: string, card: string): WriteResult {
  return removed(project, pendingPath(project, device, card));
}

function removed({ files }: Project, path: HostPath): WriteResult {
  return files.kind(path) === undefined ? { kind: 'done' } : files.remove(path);
}

/** One after the other, until one fails. */
function inTurn(...steps: readonly (() => WriteResult)[]): WriteResult {
  for (const step of steps) {
    const result = step();
    if (result.kind === 'failed') return result;
  }
  return { kind: 'done' };
}

export interface SettledPending {
  /** With each file as it is known, or most likely, to be. */
  readonly record: CardRecord;
  /** Files that the bundle has reached, that it has not reached, and of which nothing can be told. */
  readonly installed: readonly CardPath[];
  readonly not: readonly CardPath[];
  readonly unknown: readonly CardPath[];
}

/**
 * Which files a bundle has reached, by `reached` (a log) or by their texts. Where a text tells neither, it counts as
 * reached: what stands there is then a change by hand, and is kept.
 */
export function settlePending(
  was: CardRecord,
  will: CardRecord,
  tell: (path: CardPath) => boolean | undefined,
): SettledPending {
  const installed: CardPath[] = [];
  const not: CardPath[] = [];
  const unknown: CardPath[] = [];
  const files: RecordedFile[] = [];
  const paths = [...new Set([...was.files, ...will.files].map(({ path }) => path))].sort();
  for (const path of paths) {
    const old = was.files.find((file) => file.path === path);
    const fresh = will.files.find((file) => file.path === path);
    const take = (file: RecordedFile | undefined): void => {
      if (file !== undefined) files.push(file);
    };
    if (JSON.stringify(plain(old)) === JSON.stringify(plain(fresh))) {
      take(fresh);
      continue;
    }
    const told = tell(path);
    (told === undefined ? unknown : told ? installed : not).push(path);
    take(told === true ? fresh : old);
  }
  const open = not.length + unknown.length > 0;
  return {
    record: { ...(open && installed.length === 0 ? was : will), files, state: open ? 'pending' : 'written' },
    installed,
    not,
    unknown,
  };
}

/** Maps compare as empty: their pairs instead. */
function plain(value: unknown): unknown {
  if (value instanceof Map) return [...value].map(plain);
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  return Object.entries(value)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, member]) => [name, plain(member)]);
}

/** Whether a card's own text shows that a bundle has reached a file. */
export function toldByText(
  was: CardRecord,
  will: CardRecord,
  key: string,
  card: (path: CardPath) => SourceText | undefined,
): (path: CardPath) => boolean {
  const comparing = {
    keyed: (text: string): string => fingerprintOf(encodeText(text), key),
    same: (): boolean => false,
  };
  return (path) => {
    const old = was.files.find((file) => file.path === path);
    const fresh = will.files.find((file) => file.path === path);
    const source = card(path);
    const whole = fresh?.whole ?? old?.whole;
    if (whole !== undefined) {
      const holds = (written: { readonly keyed: boolean; readonly hash: string } | undefined): boolean =>
        written === undefined
          ? source === undefined
          : source !== undefined &&
            fingerprintOf(encodeText(source.text), written.keyed ? key : undefined) === written.hash;
      return holds(fresh?.whole?.written) || !(source === undefined || holds(old?.whole?.written));
    }
    const known = fresh ?? old;
    if (known === undefined) return true;
    const reader = readKeys(syntaxes[known.syntax], styleOf(known.style), source);
    let forOld = 0;
    let forNew = 0;
    const olds = new Map(old?.keys.map((one) => [placeIn(one), one]));
    const news = new Map(fresh?.keys.map((one) => [placeIn(one), one]));
    for (const place of new Set([...olds.keys(), ...news.keys()])) {
      const [before, after] = [olds.get(place), news.get(place)];
      const one = after ?? before;
      if (one === undefined) continue;
      const then: Held = before?.written ?? one.before;
      const now: Held = after?.written ?? one.before;
      if (sameContent(then, now, comparing)) continue;
      const held = contentOf(reader.get(one));
      if (sameContent(held, now, comparing)) forNew += 1;
      else if (sameContent(held, then, comparing)) forOld += 1;
    }
    return forNew > 0 || forOld === 0;
  };
}
