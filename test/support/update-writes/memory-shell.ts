import type { Files } from '../../../src/files/contract.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { HostPath } from '../../../src/model/paths.ts';
import type { Shell } from '../../../src/verbs/contract.ts';
import { BreakingDisk } from '../breaking-disk.ts';

function filesOn(disk: BreakingDisk): Files {
  const kind: Files['kind'] = (path) => {
    const stat = disk.stat(path);
    return stat.kind === 'entry' ? stat.entry.kind : undefined;
  };
  return {
    read: (path) => {
      const read = disk.read(path);
      if (read.kind === 'bytes') return read;
      const is = kind(path);
      return is === undefined ? { kind: 'absent' } : { kind: 'not-a-file', is };
    },
    kind,
    list: (path) => {
      const listed = disk.list(path);
      if (listed.kind !== 'names') return undefined;
      return listed.names.flatMap((name) => {
        const is = kind(disk.join(path, name));
        return is === undefined ? [] : [{ name, kind: is }];
      });
    },
    real: (path) => {
      const real = disk.real(path);
      return real.kind === 'path' ? real.path : undefined;
    },
    write: (path, bytes, mode) => {
      disk.plant(path, bytes, mode);
      return { kind: 'done' };
    },
    remove: (path) => {
      disk.unplant(path);
      return { kind: 'done' };
    },
    join: (folder, ...members) => disk.join(folder, ...members),
  };
}

/** A machine in memory, for running a verb as the command line does. */
export class MemoryShell implements Shell {
  readonly disk = new BreakingDisk();
  readonly files: Files = filesOn(this.disk);
  readonly here = hostPath('/w');
  readonly colour = { out: false, say: false };
  readonly width = 80;
  readonly environment: ReadonlyMap<string, string> = new Map();
  readonly home = hostPath('/home/me');
  readonly pid = 42;
  private tokens = 0;
  printed = '';
  said = '';

  out(text: string): void {
    this.printed += text;
  }
  say(text: string): void {
    this.said += text;
  }
  path(written: string): HostPath {
    return hostPath(written.startsWith('/') ? written : `/w/${written}`);
  }
  show(path: HostPath): string {
    return path;
  }
  ask(): Promise<string | undefined> {
    return Promise.resolve(undefined);
  }
  stamp(): string {
    return '2026-11-25T15:04:05Z';
  }
  token(): string {
    this.tokens += 1;
    return this.tokens.toString(16).padStart(16, '0');
  }
  git(): { readonly kind: 'absent' } {
    return { kind: 'absent' };
  }

  isAlive(): boolean {
    return false;
  }
  watch(): Promise<void> {
    return Promise.resolve();
  }
}
