import { hostPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import type { EntryKind, Files, WriteResult } from './contract.ts';

/** A disk in memory, for tests and for compiling without writing. */
export class MemoryFiles implements Files {
  private readonly contents = new Map<string, Uint8Array>();
  private readonly modes = new Map<string, number>();
  private readonly fold: boolean;

  /** `foldCase`: names that differ in case alone are one file, as on the file systems of cards. */
  constructor(start: Readonly<Record<string, string | Uint8Array>> = {}, foldCase = false) {
    this.fold = foldCase;
    for (const [path, content] of Object.entries(start))
      this.contents.set(this.key(path), typeof content === 'string' ? Buffer.from(content, 'utf8') : content);
  }

  private key(path: string): string {
    const parts: string[] = [];
    for (const part of path.split('/')) {
      if (part === '' || part === '.') continue;
      if (part === '..') parts.pop();
      else parts.push(part);
    }
    const clean = `/${parts.join('/')}`;
    return this.fold ? clean.toLowerCase() : clean;
  }

  read(path: HostPath, limit?: number): ReturnType<Files['read']> {
    const bytes = this.contents.get(this.key(path));
    if (bytes === undefined)
      return this.kind(path) === 'folder' ? { kind: 'not-a-file', is: 'folder' } : { kind: 'absent' };
    return limit !== undefined && bytes.length > limit
      ? { kind: 'too-large', bytes: bytes.length }
      : { kind: 'bytes', bytes };
  }

  kind(path: HostPath): EntryKind | undefined {
    const key = this.key(path);
    if (this.contents.has(key)) return 'file';
    const stem = key === '/' ? '/' : `${key}/`;
    for (const known of this.contents.keys()) if (known.startsWith(stem)) return 'folder';
    return undefined;
  }

  list(path: HostPath): ReturnType<Files['list']> {
    if (this.kind(path) !== 'folder') return undefined;
    const key = this.key(path);
    const stem = key === '/' ? '/' : `${key}/`;
    const found = new Map<string, EntryKind>();
    for (const known of this.contents.keys()) {
      if (!known.startsWith(stem)) continue;
      const [name = '', ...rest] = known.slice(stem.length).split('/');
      found.set(name, rest.length > 0 ? 'folder' : 'file');
    }
    return [...found].map(([name, kind]) => ({ name, kind })).sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  real(path: HostPath): HostPath | undefined {
    return this.kind(path) === undefined ? undefined : hostPath(this.key(path));
  }

  mode(path: HostPath): number | undefined {
    return this.contents.has(this.key(path)) ? (this.modes.get(this.key(path)) ?? 0o644) : undefined;
  }

  size(path: HostPath): number | undefined {
    return this.contents.get(this.key(path))?.length;
  }

  write(path: HostPath, bytes: Uint8Array, mode?: number): WriteResult {
    if (this.kind(path) === 'folder') return { kind: 'failed', why: 'a folder stands there' };
    this.contents.set(this.key(path), bytes);
    if (mode === undefined) this.modes.delete(this.key(path));
    else this.modes.set(this.key(path), mode);
    return { kind: 'done' };
  }

  remove(path: HostPath): WriteResult {
    return this.contents.delete(this.key(path)) ? { kind: 'done' } : { kind: 'failed', why: 'it is not there' };
  }

  join(folder: HostPath, ...members: readonly string[]): HostPath {
    return hostPath(this.key([folder, ...members].join('/')));
  }
}
