import { gunzipSync, gzipSync } from 'node:zlib';
import type { Disk, DiskFailure, DiskResult } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';
import { ensureFolder, inTurn, removeIfThere, replaceFile, sha256 } from './steps.ts';
import type { Turn } from './turn.ts';

/** How many turns can be gone back to. */
export const keptTurns = 20;

const ownerOnly = { mode: 0o600 };

/**
 * What is kept of one card: the turns by number, and every text that they need by its SHA-256, compressed. A turn is
 * never written over; a text is stored once. The file of a turn is its journal as well: `begun`, `kept`, `done` is the
 * end of its name, so that one rename takes it from each to the next.
 */
export class Store {
  private readonly disk: Disk;
  private readonly folder: HostPath;

  constructor(disk: Disk, folder: HostPath) {
    this.disk = disk;
    this.folder = folder;
  }

  private path(...members: readonly string[]): HostPath {
    return this.disk.join(this.folder, ...members);
  }

  private put(path: HostPath, bytes: Uint8Array): DiskResult {
    return replaceFile(this.disk, path, this.disk.join(path, '..', 'part.new'), bytes, ownerOnly);
  }

  putText(bytes: Uint8Array): DiskResult {
    const hash = sha256(bytes);
    const kept = this.text(hash);
    if (kept.kind === 'text') return { kind: 'done' };
    return (
      inTurn([
        () => ensureFolder(this.disk, this.path('texts'), { mode: 0o700 }),
        () => this.put(this.path('texts', `${hash}.gz`), gzipSync(bytes)),
      ]) ?? { kind: 'done' }
    );
  }

  /** A text by its hash; one that no longer has that hash counts as failed. */
  text(hash: string): { readonly kind: 'text'; readonly bytes: Uint8Array } | DiskFailure {
    const read = this.disk.read(this.path('texts', `${hash}.gz`));
    if (read.kind === 'failed') return read;
    const bytes = unpack(read.bytes);
    return bytes !== undefined && sha256(bytes) === hash
      ? { kind: 'text', bytes }
      : { kind: 'failed', trouble: 'failed', why: 'a kept text is damaged' };
  }

  /** The text that fits, of those that are kept. */
  textThat(fits: (bytes: Uint8Array) => boolean): Uint8Array | undefined {
    const listed = this.disk.list(this.path('texts'));
    for (const name of listed.kind === 'failed' ? [] : listed.names) {
      const kept = name.endsWith('.gz') ? this.text(name.slice(0, -3)) : undefined;
      if (kept?.kind === 'text' && fits(kept.bytes)) return kept.bytes;
    }
    return undefined;
  }

  /** Numbers of the turns that were gone through, rising. */
  numbers(): readonly number[] {
    return this.turnNames()
      .filter(({ state }) => state === 'done')
      .map(({ number }) => number);
  }

  private turnNames(): readonly { readonly number: number; readonly state: string }[] {
    const listed = this.disk.list(this.path('turns'));
    if (listed.kind === 'failed') return [];
    return listed.names
      .flatMap((name) => {
        const [, number, state] = /^(\d+)\.(begun|kept|done)$/.exec(name) ?? [];
        return number === undefined || state === undefined ? [] : [{ number: Number(number), state }];
      })
      .sort((a, b) => a.number - b.number);
  }

  private turnPath(number: number, state: 'begun' | 'kept' | 'done'): HostPath {
    return this.path('turns', `${String(number).padStart(4, '0')}.${state}`);
  }

  turn(number: number, state: 'begun' | 'kept' | 'done' = 'done'): Turn | undefined {
    const read = this.disk.read(this.turnPath(number, state));
    return read.kind === 'failed' ? undefined : parseTurn(read.bytes);
  }

  /** What a killed process left: a turn to be taken back (`begun`), or to be gone through with (`kept`). */
  underWay(): { readonly number: number; readonly state: 'begun' | 'kept' } | undefined {
    for (const { number, state } of this.turnNames())
      if (state === 'begun' || state === 'kept') return { number, state };
    return undefined;
  }

  /** From here on a killed turn is taken back. */
  begin(turn: Turn): DiskResult {
    const bytes = Buffer.from(`${JSON.stringify(turn, undefined, 2)}\n`);
    return (
      inTurn([
        () => ensureFolder(this.disk, this.path('turns'), { mode: 0o700 }),
        () => this.put(this.turnPath(turn.number, 'begun'), bytes),
      ]) ?? { kind: 'done' }
    );
  }

  /** From here on a killed turn is gone through with. */
  keep(number: number): DiskResult {
    return this.move(number, 'begun', 'kept');
  }

  /** Nothing is under way any more, and the turn can be undone. */
  end(number: number): DiskResult {
    return this.move(number, 'kept', 'done');
  }

  private move(number: number, from: 'begun' | 'kept', to: 'kept' | 'done'): DiskResult {
    return (
      inTurn([
        () => this.disk.rename(this.turnPath(number, from), this.turnPath(number, to)),
        () => this.disk.syncFolder(this.path('turns')),
      ]) ?? { kind: 'done' }
    );
  }

  /** Nothing is under way any more, and it is as if the turn had never been. */
  forget(number: number): DiskResult {
    return (
      inTurn([
        () => removeIfThere(this.disk, this.turnPath(number, 'begun')),
        () => this.disk.syncFolder(this.path('turns')),
      ]) ?? { kind: 'done' }
    );
  }

  /** Forgets the oldest turns, and the texts that nothing needs. What fails here fails again next time, and harms nothing. */
  prune(needed: (text: Uint8Array) => boolean): void {
    const numbers = this.numbers();
    for (const number of numbers.slice(0, Math.max(0, numbers.length - keptTurns)))
      removeIfThere(this.disk, this.turnPath(number, 'done'));
    const wanted = new Set<string>();
    for (const number of this.numbers()) {
      const turn = this.turn(number);
      // One that cannot be read may need any text.
      if (turn === undefined) return;
      for (const hash of [turn.record.before, turn.record.after, ...turn.files.map(({ before }) => before)])
        if (hash !== null) wanted.add(hash);
    }
    const listed = this.disk.list(this.path('texts'));
    if (listed.kind === 'failed') return;
    for (const name of listed.names)
      if (name.endsWith('.gz') && !wanted.has(name.slice(0, -3))) {
        const kept = this.text(name.slice(0, -3));
        if (kept.kind !== 'text' || !needed(kept.bytes)) removeIfThere(this.disk, this.path('texts', name));
      }
  }
}

function unpack(bytes: Uint8Array): Uint8Array | undefined {
  try {
    return gunzipSync(bytes);
  } catch {
    return undefined;
  }
}

function isTurn(value: unknown): value is Turn {
  return (
    typeof value === 'object' &&
    value !== null &&
    'format' in value &&
    value.format === 1 &&
    'files' in value &&
    Array.isArray(value.files) &&
    'record' in value &&
    'act' in value
  );
}

function parseTurn(bytes: Uint8Array): Turn | undefined {
  try {
    const value: unknown = JSON.parse(Buffer.from(bytes).toString('utf8'));
    return isTurn(value) ? value : undefined;
  } catch {
    return undefined;
  }
}
