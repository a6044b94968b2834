import { hostPath } from '../../src/model/paths.ts';
import type { HostPath } from '../../src/model/paths.ts';
import type { Disk, DiskFailure, DiskResult, DiskTrouble, Ownership } from '../../src/files/disk.ts';

interface Folder {
  readonly kind: 'folder';
  names: Map<string, Node>;
  /** As it would be found after the power went. */
  lasting: Map<string, Node>;
}
interface File {
  readonly kind: 'file';
  bytes: Uint8Array;
  lasting: Uint8Array;
  ownership: { mode: number; uid: number; gid: number };
  mtime: number;
}
interface Link {
  readonly kind: 'link';
  readonly to: string;
}
type Node = Folder | File | Link;

/** Thrown where the process is killed. */
export class Killed extends Error {}

/** What goes wrong, at which call of the disk (from 1). */
export type Breakage =
  | { readonly kind: 'none' }
  | { readonly kind: 'kill'; readonly at: number }
  | { readonly kind: 'fail'; readonly at: number; readonly trouble: DiskTrouble }
  /** All that lies below is gone from then on. */
  | { readonly kind: 'vanish'; readonly at: number; readonly below: string };

export interface DiskKind {
  readonly foldsCase?: boolean;
  /** As FAT: no modes, no owners. */
  readonly keepsOwnership?: boolean;
  readonly free?: number;
}

function folder(): Folder {
  return { kind: 'folder', names: new Map(), lasting: new Map() };
}

/** A disk in memory that keeps apart what was flushed and what was not, and breaks when it is told to. */
export class BreakingDisk implements Disk {
  private root = folder();
  private readonly is: DiskKind;
  private clock = 0;
  breakage: Breakage = { kind: 'none' };
  calls = 0;

  constructor(is: DiskKind = {}) {
    this.is = is;
  }

  /** One step that may be the last: true when it is to fail. */
  private step(path: HostPath): DiskFailure | undefined {
    this.calls += 1;
    const { breakage } = this;
    if (breakage.kind === 'kill' && this.calls >= breakage.at) throw new Killed(`at call ${this.calls}`);
    if (breakage.kind === 'fail' && this.calls === breakage.at)
      return { kind: 'failed', trouble: breakage.trouble, why: `made to fail: ${breakage.trouble}` };
    if (breakage.kind === 'vanish' && this.calls >= breakage.at && `${path}/`.startsWith(`${breakage.below}/`))
      return { kind: 'failed', trouble: 'absent', why: 'it is not there' };
    return undefined;
  }

  private fold(name: string): string {
    return this.is.foldsCase === true ? name.toLowerCase() : name;
  }

  private members(path: string): string[] {
    const members: string[] = [];
    for (const member of path.split('/')) {
      if (member === '' || member === '.') continue;
      if (member === '..') members.pop();
      else members.push(member);
    }
    return members;
  }

  private follow(path: string, links = 0): { readonly node: Node; readonly path: string } | undefined {
    if (links > 20) return undefined;
    let node: Node = this.root;
    let here = '';
    for (const member of this.members(path)) {
      if (node.kind !== 'folder') return undefined;
      const next: Node | undefined = node.names.get(this.fold(member));
      if (next === undefined) return undefined;
      here = `${here}/${member}`;
      node = next;
      if (node.kind === 'link') {
        const at = node.to.startsWith('/') ? node.to : `${here}/../${node.to}`;
        const found = this.follow(at, links + 1);
        if (found === undefined) return undefined;
        node = found.node;
        here = found.path;
      }
    }
    return { node, path: here === '' ? '/' : here };
  }

  /** The folder that a path lies in, and its name there. */
  private place(path: string): { readonly in: Folder; readonly name: string } | undefined {
    const members = this.members(path);
    const name = members.pop();
    const above = this.follow(`/${members.join('/')}`)?.node;
    return name === undefined || above?.kind !== 'folder' ? undefined : { in: above, name: this.fold(name) };
  }

  private itself(path: string): Node | undefined {
    if (this.members(path).length === 0) return this.root;
    const place = this.place(path);
    return place?.in.names.get(place.name);
  }

  private failed(trouble: DiskTrouble): DiskFailure {
    return { kind: 'failed', trouble, why: trouble };
  }

  read(path: HostPath): ReturnType<Disk['read']> {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const node = this.follow(path)?.node;
    if (node === undefined) return this.failed('absent');
    return node.kind === 'file' ? { kind: 'bytes', bytes: node.bytes } : this.failed('other');
  }

  stat(path: HostPath): ReturnType<Disk['stat']> {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const node = this.itself(path);
    if (node === undefined) return this.failed('absent');
    const size = node.kind === 'file' ? node.bytes.length : 0;
    const own = node.kind === 'file' ? node.ownership : { mode: 0o755, uid: 1000, gid: 1000 };
    const mtime = node.kind === 'file' ? node.mtime : 0;
    return { kind: 'entry', entry: { kind: node.kind, size, ...own, mtime, volume: 1 } };
  }

  list(path: HostPath): ReturnType<Disk['list']> {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const node = this.follow(path)?.node;
    return node?.kind === 'folder' ? { kind: 'names', names: [...node.names.keys()].sort() } : this.failed('absent');
  }

  real(path: HostPath): ReturnType<Disk['real']> {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const found = this.follow(path);
    return found === undefined ? this.failed('absent') : { kind: 'path', path: hostPath(found.path) };
  }

  writeNew(path: HostPath, bytes: Uint8Array, ownership: Ownership): ReturnType<Disk['writeNew']> {
    const unopened = this.step(path);
    if (unopened !== undefined) return unopened;
    const place = this.place(path);
    if (place === undefined) return this.failed('absent');
    if (place.in.names.has(place.name)) return this.failed('exists');
    const file: File = {
      kind: 'file',
      bytes: new Uint8Array(),
      lasting: new Uint8Array(),
      ownership: { mode: this.is.keepsOwnership === false ? 0o755 : 0o644, uid: 1000, gid: 1000 },
      mtime: ++this.clock,
    };
    place.in.names.set(place.name, file);
    // Opened, half written, written, flushed: it may stop at each.
    const half = this.step(path);
    if (half !== undefined) return half;
    file.bytes = bytes.slice(0, Math.floor(bytes.length / 2));
    const whole = this.step(path);
    if (whole !== undefined) return whole;
    file.bytes = Uint8Array.from(bytes);
    if (this.is.free !== undefined && this.used() > this.is.free) return this.failed('no-space');
    if (this.is.keepsOwnership !== false) file.ownership = { ...file.ownership, ...ownership };
    const flushed = this.step(path);
    if (flushed !== undefined) return flushed;
    file.lasting = file.bytes;
    const { mode, uid, gid } = file.ownership;
    const kept =
      (ownership.mode === undefined || ownership.mode === mode) &&
      (ownership.uid === undefined || ownership.uid === uid) &&
      (ownership.gid === undefined || ownership.gid === gid);
    return { kind: 'done', kept };
  }

  private change(
    path: HostPath,
    work: (place: { readonly in: Folder; readonly name: string }) => DiskResult,
  ): DiskResult {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const place = this.place(path);
    return place === undefined ? this.failed('absent') : work(place);
  }

  rename(from: HostPath, to: HostPath): DiskResult {
    return this.change(from, (old) => {
      const node = old.in.names.get(old.name);
      const place = this.place(to);
      if (node === undefined || place === undefined) return this.failed('absent');
      old.in.names.delete(old.name);
      place.in.names.set(place.name, node);
      return { kind: 'done' };
    });
  }

  remove(path: HostPath): DiskResult {
    return this.change(path, (place) => {
      const node = place.in.names.get(place.name);
      if (node === undefined) return this.failed('absent');
      if (node.kind === 'folder') return this.failed('other');
      place.in.names.delete(place.name);
      return { kind: 'done' };
    });
  }

  makeFolder(path: HostPath): DiskResult {
    return this.change(path, (place) => {
      if (place.in.names.has(place.name)) return this.failed('exists');
      place.in.names.set(place.name, folder());
      return { kind: 'done' };
    });
  }

  removeFolder(path: HostPath): DiskResult {
    return this.change(path, (place) => {
      const node = place.in.names.get(place.name);
      if (node?.kind !== 'folder') return this.failed('absent');
      if (node.names.size > 0) return this.failed('not-empty');
      place.in.names.delete(place.name);
      return { kind: 'done' };
    });
  }

  syncFolder(path: HostPath): DiskResult {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const node = this.follow(path)?.node;
    if (node?.kind !== 'folder') return this.failed('absent');
    node.lasting = new Map(node.names);
    return { kind: 'done' };
  }

  space(path: HostPath): ReturnType<Disk['space']> {
    const broken = this.step(path);
    if (broken !== undefined) return broken;
    const free = (this.is.free ?? 1e9) - this.used();
    return { kind: 'space', free, cluster: 1, fileSystem: 'other' };
  }

  join(path: HostPath, ...members: readonly string[]): HostPath {
    return hostPath(`/${this.members([path, ...members].join('/')).join('/')}`);
  }

  private used(node: Node = this.root): number {
    if (node.kind === 'file') return node.bytes.length;
    if (node.kind === 'link') return 0;
    return [...node.names.values()].reduce((sum, child) => sum + this.used(child), 0);
  }

  /**
   * The power goes: what was not flushed may be lost. Of each folder with names that were not flushed `choose` says
   * whether the new ones reached the medium; bytes that were not flushed never did.
   */
  powerCut(choose: (path: string) => boolean, node: Folder = this.root, path = ''): void {
    node.names = new Map(choose(path) ? node.names : node.lasting);
    node.lasting = new Map(node.names);
    for (const [name, child] of node.names) {
      if (child.kind === 'file') child.bytes = child.lasting;
      if (child.kind === 'folder') this.powerCut(choose, child, `${path}/${name}`);
    }
  }

  /** Puts a file, with its folders, as if it had long been there; breaks nothing. */
  plant(path: string, text: string | Uint8Array, mode = 0o644): void {
    const place = this.plantFolder(path);
    const bytes = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
    const ownership = { mode: this.is.keepsOwnership === false ? 0o755 : mode, uid: 1000, gid: 1000 };
    place.in.names.set(place.name, { kind: 'file', bytes, lasting: bytes, ownership, mtime: ++this.clock });
    place.in.lasting = new Map(place.in.names);
  }

  plantLink(path: string, to: string): void {
    const place = this.plantFolder(path);
    place.in.names.set(place.name, { kind: 'link', to });
    place.in.lasting = new Map(place.in.names);
  }

  unplant(path: string): void {
    const place = this.place(path);
    place?.in.names.delete(place.name);
    place?.in.lasting.delete(place.name);
  }

  private plantFolder(path: string): { readonly in: Folder; readonly name: string } {
    const members = this.members(path);
    const name = this.fold(members.pop() ?? '');
    let here = this.root;
    for (const member of members) {
      let next = here.names.get(this.fold(member));
      if (next?.kind !== 'folder') {
        next = folder();
        here.names.set(this.fold(member), next);
        here.lasting.set(this.fold(member), next);
      }
      here = next;
    }
    return { in: here, name };
  }

  /** Every file and link, and every folder with a slash at its end, below a path: text, mode and time. */
  picture(path: string): ReadonlyMap<string, string> {
    const found = new Map<string, string>();
    const walk = (node: Node, name: string): void => {
      if (node.kind === 'file')
        found.set(name, `${node.ownership.mode.toString(8)} ${Buffer.from(node.bytes).toString('latin1')}`);
      else if (node.kind === 'link') found.set(name, `-> ${node.to}`);
      else {
        found.set(`${name}/`, '');
        for (const [member, child] of node.names) walk(child, `${name}/${member}`);
      }
    };
    const node = this.itself(path);
    if (node !== undefined) walk(node, '');
    return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
  }

  /** Times of every file below a path. */
  times(path: string): ReadonlyMap<string, number> {
    const found = new Map<string, number>();
    const walk = (node: Node, name: string): void => {
      if (node.kind === 'file') found.set(name, node.mtime);
      if (node.kind === 'folder') for (const [member, child] of node.names) walk(child, `${name}/${member}`);
    };
    const node = this.itself(path);
    if (node !== undefined) walk(node, '');
    return found;
  }
}
