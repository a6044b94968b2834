import type { HostPath } from '../model/paths.ts';
import type { Files } from './contract.ts';

/** The disk as it would be with some files changed: for plans that take a change of the profile into account. */
export function overlayFiles(files: Files, changed: ReadonlyMap<HostPath, Uint8Array>): Files {
  const read: Files['read'] = (path, limit) => {
    const bytes = changed.get(path);
    return bytes === undefined ? files.read(path, limit) : { kind: 'bytes', bytes };
  };
  return { ...bound(files), read };
}

function bound(files: Files): Files {
  return {
    read: (path, limit) => files.read(path, limit),
    kind: (path) => files.kind(path),
    list: (path) => files.list(path),
    real: (path) => files.real(path),
    ...(files.mode === undefined ? {} : { mode: (path: HostPath) => files.mode?.(path) }),
    ...(files.size === undefined ? {} : { size: (path: HostPath) => files.size?.(path) }),
    write: (path, bytes, mode) => files.write(path, bytes, mode),
    remove: (path) => files.remove(path),
    join: (folder, ...members) => files.join(folder, ...members),
  };
}
