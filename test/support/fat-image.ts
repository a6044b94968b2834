import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readFileSync, readSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hostPath } from '../../src/model/paths.ts';
import type { HostPath } from '../../src/model/paths.ts';
import type { DiskFailure, DiskResult, Ownership } from '../../src/files/disk.ts';
import { BreakingDisk } from './breaking-disk.ts';

/** Where the image stands in the paths of the disk. */
const mount = '/card';

/**
 * A real FAT32 file system: an image made by mkfs.fat, worked on by mtools since nothing can be mounted here. All that
 * lies outside `/card` is in memory. Case is folded by mtools.
 */
export class FatImage extends BreakingDisk {
  private readonly folder: string;
  private readonly image: string;
  /** The most clusters that were ever taken. */
  peak = 0;

  constructor(options: { readonly mebibytes: number; readonly sectorsPerCluster: number; readonly label?: string }) {
    super({ keepsOwnership: false });
    this.folder = mkdtempSync(join(tmpdir(), 'fat-'));
    this.image = join(this.folder, 'card.img');
    this.tool('truncate', ['-s', `${options.mebibytes}M`, this.image]);
    this.tool('mkfs.fat', [
      ...['-F', '32', '-s', String(options.sectorsPerCluster)],
      ...(options.label === undefined ? [] : ['-n', options.label]),
      this.image,
    ]);
    this.peak = this.usedClusters();
  }

  close(): void {
    rmSync(this.folder, { recursive: true });
  }

  private tool(
    name: string,
    args: readonly string[],
    input?: Uint8Array,
  ): { readonly ok: boolean; readonly out: Buffer; readonly err: string } {
    const run = spawnSync(name, args, { input, env: { ...process.env, MTOOLS_SKIP_CHECK: '1', LC_ALL: 'C.UTF-8' } });
    if (run.error !== undefined) throw run.error;
    return { ok: run.status === 0, out: run.stdout, err: run.stderr.toString('utf8') };
  }

  private mtool(name: string, args: readonly string[], input?: Uint8Array): ReturnType<FatImage['tool']> {
    return this.tool(name, ['-i', this.image, ...args], input);
  }

  private on(path: string): string | undefined {
    const clean = super.join(hostPath(path));
    if (clean === mount) return '::/';
    return clean.startsWith(`${mount}/`) ? `::${clean.slice(mount.length)}` : undefined;
  }

  private changed(ran: { readonly ok: boolean; readonly err: string }): DiskResult {
    this.peak = Math.max(this.peak, this.usedClusters());
    if (ran.ok) return { kind: 'done' };
    const trouble = /no space|disk full/i.test(ran.err)
      ? 'no-space'
      : /not empty/i.test(ran.err)
        ? 'not-empty'
        : 'other';
    return { kind: 'failed', trouble, why: ran.err.trim() };
  }

  /** Boot sector and FAT, as Microsoft's FAT32 File System Specification 1.03 lays them out. */
  private table(): { readonly cluster: number; readonly count: number; readonly fat: Buffer } {
    const file = openSync(this.image, 'r');
    try {
      const boot = Buffer.alloc(512);
      readSync(file, boot, 0, 512, 0);
      const sector = boot.readUInt16LE(11);
      const perCluster = boot.readUInt8(13);
      const reserved = boot.readUInt16LE(14);
      const fats = boot.readUInt8(16);
      const fatSectors = boot.readUInt32LE(36);
      const count = Math.floor((boot.readUInt32LE(32) - reserved - fats * fatSectors) / perCluster);
      const fat = Buffer.alloc((count + 2) * 4);
      readSync(file, fat, 0, fat.length, reserved * sector);
      return { cluster: sector * perCluster, count, fat };
    } finally {
      closeSync(file);
    }
  }

  usedClusters(): number {
    const { count, fat } = this.table();
    let used = 0;
    for (let at = 2; at < count + 2; at++) if ((fat.readUInt32LE(at * 4) & 0x0fffffff) !== 0) used += 1;
    return used;
  }

  /** Clusters in use as fsck.fat counts them; throws where it finds anything wrong. */
  fsck(): number {
    const { ok, out } = this.tool('fsck.fat', ['-n', this.image]);
    const text = out.toString('utf8');
    const used = /(\d+)\/\d+ clusters/.exec(text)?.[1];
    if (!ok || used === undefined) throw new Error(`fsck.fat: ${text}`);
    return Number(used);
  }

  override plant(path: string, text: string | Uint8Array, mode?: number): void {
    const on = this.on(path);
    if (on === undefined) {
      super.plant(path, text, mode);
      return;
    }
    const members = on.slice(3).split('/');
    for (let count = 1; count < members.length; count++)
      this.mtool('mmd', ['-D', 's', `::/${members.slice(0, count).join('/')}`]);
    const ran = this.mtool('mcopy', ['-D', 'o', '-', on], typeof text === 'string' ? Buffer.from(text, 'utf8') : text);
    if (!ran.ok) throw new Error(`${path}: ${ran.err}`);
    this.peak = this.usedClusters();
  }

  override read(path: HostPath): ReturnType<BreakingDisk['read']> {
    const on = this.on(path);
    if (on === undefined) return super.read(path);
    const ran = this.mtool('mtype', [on]);
    return ran.ok ? { kind: 'bytes', bytes: ran.out } : absent(ran.err);
  }

  private names(on: string): readonly { readonly name: string; readonly isFolder: boolean }[] | undefined {
    const stem = on.endsWith('/') ? on : `${on}/`;
    const ran = this.mtool('mdir', ['-b', '-a', stem]);
    if (!ran.ok) return /no match|not found/i.test(ran.err) && this.isFolder(on) ? [] : undefined;
    return ran.out
      .toString('utf8')
      .split('\n')
      .filter((line) => line.startsWith(stem))
      .map((line) => line.slice(stem.length))
      .map((name) => ({ name: name.replace(/\/$/, ''), isFolder: name.endsWith('/') }))
      .filter(({ name }) => name !== '.' && name !== '..' && name !== '');
  }

  private isFolder(on: string): boolean {
    return this.itselfOn(on)?.isFolder ?? false;
  }

  private itselfOn(on: string): { readonly isFolder: boolean } | undefined {
    if (on === '::/') return { isFolder: true };
    const cut = on.lastIndexOf('/');
    const name = on.slice(cut + 1).toLowerCase();
    return this.names(cut === 2 ? '::/' : on.slice(0, cut))?.find((one) => one.name.toLowerCase() === name);
  }

  override stat(path: HostPath): ReturnType<BreakingDisk['stat']> {
    const on = this.on(path);
    if (on === undefined) return super.stat(path);
    const found = this.itselfOn(on);
    if (found === undefined) return absent('');
    const kind = found.isFolder ? 'folder' : 'file';
    return { kind: 'entry', entry: { kind, size: 0, mode: 0o755, uid: 1000, gid: 1000, mtime: 0, volume: 2 } };
  }

  override list(path: HostPath): ReturnType<BreakingDisk['list']> {
    const on = this.on(path);
    if (on === undefined) return super.list(path);
    const names = this.names(on);
    return names === undefined ? absent('') : { kind: 'names', names: names.map(({ name }) => name) };
  }

  override real(path: HostPath): ReturnType<BreakingDisk['real']> {
    return this.on(path) === undefined ? super.real(path) : { kind: 'path', path: super.join(path) };
  }

  override writeNew(path: HostPath, bytes: Uint8Array, ownership: Ownership): ReturnType<BreakingDisk['writeNew']> {
    const on = this.on(path);
    if (on === undefined) return super.writeNew(path, bytes, ownership);
    if (this.itselfOn(on) !== undefined) return { kind: 'failed', trouble: 'exists', why: 'it is there already' };
    const result = this.changed(this.mtool('mcopy', ['-', on], bytes));
    return result.kind === 'failed'
      ? result
      : { kind: 'done', kept: ownership.mode === undefined || ownership.mode === 0o755 };
  }

  override rename(from: HostPath, to: HostPath): DiskResult {
    const [old, now] = [this.on(from), this.on(to)];
    if (old === undefined || now === undefined) return super.rename(from, to);
    if (this.itselfOn(now) !== undefined) {
      this.mtool('mdel', [now]);
      return this.changed(this.mtool('mren', [old, now]));
    }
    // mren gives the entries of the old name to the new one. Linux puts the new name in before it takes the old one out
    // (vfat_rename in fs/fat/namei_vfat.c, from memory), so that each finds other free entries and can need one cluster
    // more for the folder. A copy goes in as Linux puts the name; only where there is no room for one is mren used.
    if (this.mtool('mcopy', [old, now]).ok) return this.changed(this.mtool('mdel', [old]));
    this.mtool('mdel', [now]);
    return this.changed(this.mtool('mren', [old, now]));
  }

  override remove(path: HostPath): DiskResult {
    const on = this.on(path);
    if (on === undefined) return super.remove(path);
    return this.itselfOn(on) === undefined ? absent('') : this.changed(this.mtool('mdel', [on]));
  }

  override makeFolder(path: HostPath): DiskResult {
    const on = this.on(path);
    return on === undefined ? super.makeFolder(path) : this.changed(this.mtool('mmd', [on]));
  }

  override removeFolder(path: HostPath): DiskResult {
    const on = this.on(path);
    if (on === undefined) return super.removeFolder(path);
    if (this.itselfOn(on) === undefined) return absent('');
    if ((this.names(on) ?? []).length > 0)
      return { kind: 'failed', trouble: 'not-empty', why: 'the folder is not empty' };
    return this.changed(this.mtool('mrd', [on]));
  }

  override syncFolder(path: HostPath): DiskResult {
    return this.on(path) === undefined ? super.syncFolder(path) : { kind: 'done' };
  }

  override space(path: HostPath): ReturnType<BreakingDisk['space']> {
    if (this.on(path) === undefined) return super.space(path);
    const { cluster, count } = this.table();
    return { kind: 'space', free: (count - this.usedClusters()) * cluster, cluster, fileSystem: 'fat' };
  }

  /** The whole image: equal bytes, equal card. */
  bytes(): Buffer {
    return readFileSync(this.image);
  }
}

function absent(why: string): DiskFailure {
  return { kind: 'failed', trouble: 'absent', why: why === '' ? 'it is not there' : why.trim() };
}
