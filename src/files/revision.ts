import type { HostPath } from '../model/paths.ts';
import type { Files } from './contract.ts';

/** A folder as it was: its files by path from there (forward slashes), each read when it is asked for. */
export interface Revision {
  readonly root: HostPath;
  readonly files: ReadonlySet<string>;
  /** Undefined where it cannot be read. */
  read(path: string): Uint8Array | undefined;
}

/**
 * The disk with one folder as it was at a revision. What is installed in it (node_modules) is in no revision, and is
 * taken as it is now. Nothing can be written there.
 */
export function revisionFiles(now: Files, revision: Revision): Files {
  const folders = new Set<string>(['']);
  for (const path of revision.files) {
    for (let cut = path.lastIndexOf('/'); cut > 0; cut = path.lastIndexOf('/', cut - 1))
      folders.add(path.slice(0, cut));
  }
  /** Undefined: outside of what was, and so as it is. */
  const inside = (path: HostPath): string | undefined => {
    const { root } = revision;
    if (path !== root && !/^[/\\]/.test(path.startsWith(root) ? path.slice(root.length) : '')) return undefined;
    const rest = path
      .slice(root.length)
      .replaceAll('\\', '/')
      .replaceAll(/^\/+|\/+$/g, '');
    return rest === 'node_modules' || rest.startsWith('node_modules/') ? undefined : rest;
  };
  const kindAt = (path: string): 'file' | 'folder' | undefined =>
    revision.files.has(path) ? 'file' : folders.has(path) ? 'folder' : undefined;
  const refused = { kind: 'failed', why: 'it is a file of an earlier revision' } as const;
  return {
    read(path, limit) {
      const at = inside(path);
      if (at === undefined) return now.read(path, limit);
      const kind = kindAt(at);
      if (kind !== 'file') return kind === undefined ? { kind: 'absent' } : { kind: 'not-a-file', is: kind };
      const bytes = revision.read(at);
      if (bytes === undefined) return { kind: 'failed', why: 'git cannot read it at that revision' };
      return limit !== undefined && bytes.length > limit
        ? { kind: 'too-large', bytes: bytes.length }
        : { kind: 'bytes', bytes };
    },
    kind(path) {
      const at = inside(path);
      return at === undefined ? now.kind(path) : kindAt(at);
    },
    list(path) {
      const at = inside(path);
      if (at === undefined) return now.list(path);
      if (kindAt(at) !== 'folder') return undefined;
      const begin = at === '' ? '' : `${at}/`;
      const names = new Set(
        [...revision.files, ...folders].flatMap((one) => {
          const name = one.startsWith(begin) ? (one.slice(begin.length).split('/')[0] ?? '') : '';
          return name === '' ? [] : [name];
        }),
      );
      return [...names].sort().map((name) => ({ name, kind: kindAt(begin + name) ?? ('other' as const) }));
    },
    real(path) {
      const at = inside(path);
      if (at === undefined) return now.real(path);
      return kindAt(at) === undefined ? undefined : path;
    },
    write: (path, bytes, mode) => (inside(path) === undefined ? now.write(path, bytes, mode) : refused),
    remove: (path) => (inside(path) === undefined ? now.remove(path) : refused),
    join: (folder, ...members) => now.join(folder, ...members),
  };
}
