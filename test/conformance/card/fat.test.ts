import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { forecastRoom } from '../../../src/5-apply/check-room.ts';
import { recover } from '../../../src/5-apply/recover.ts';
import { survey } from '../../../src/5-apply/survey.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import type { ApplyInput, Work } from '../../../src/5-apply/apply-input.ts';
import type { DiskResult } from '../../../src/files/disk.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { HostPath } from '../../../src/model/paths.ts';
import { inputAt, work } from '../../support/apply-world.ts';
import { FatImage } from '../../support/fat-image.ts';
import { requireTool } from '../../support/tool.ts';

// Outside check: mkfs.fat and fsck.fat (dosfstools), mtools.
const missing = [requireTool('mkfs.fat', 'dosfstools'), requireTool('mcopy', 'mtools')].includes(true);

function inputOn(disk: FatImage, works: readonly Work[]): ApplyInput {
  return { ...inputAt(disk, works, 'record: 1\n'), parts: new Map([['games', hostPath('/card')]]) };
}

interface Tree {
  readonly had: ReadonlyMap<string, number>;
  readonly gets: ReadonlyMap<string, number | null>;
}

const names = fc.oneof(
  fc.stringMatching(/^[A-Z][A-Z0-9]{0,7}(\.[A-Z]{1,3})?$/),
  fc.stringMatching(/^[a-z][a-z0-9 -]{0,40}[a-z]\.(conf|json)$/),
  fc.stringMatching(/^[A-Z][a-z]{2,6}\.cfg$/),
);
const folders = fc.constantFrom('', 'harrow/', 'harrow/systems/', 'A_B/', 'a folder with a long name/');
const path = fc.tuple(folders, names).map(([folder, name]) => `${folder}${name}`);
const size = fc.oneof(fc.constantFrom(0, 1, 511, 512, 513, 4095, 4096, 4097), fc.nat(20_000));

const trees: fc.Arbitrary<Tree> = fc
  .tuple(
    fc.uniqueArray(fc.tuple(path, size), { maxLength: 20, selector: ([name]) => name.toLowerCase() }),
    fc.array(fc.tuple(fc.nat(30), fc.option(size)), { maxLength: 8 }),
    fc.uniqueArray(fc.tuple(path, size), { minLength: 1, maxLength: 20, selector: ([name]) => name.toLowerCase() }),
  )
  .map(([had, changed, added]) => {
    const gets = new Map<string, number | null>();
    for (const [at, wanted] of changed) {
      const old = had[at];
      if (old !== undefined && old[1] !== wanted) gets.set(old[0], wanted);
    }
    const known = new Set(had.map(([name]) => name.toLowerCase()));
    for (const [name, wanted] of added) if (!known.has(name.toLowerCase())) gets.set(name, wanted);
    return { had: new Map(had), gets };
  });

function text(name: string, length: number): string {
  return `${name}: `.repeat(Math.ceil(length / (name.length + 2))).slice(0, length);
}

function worksOf({ had, gets }: Tree): readonly Work[] {
  return [...gets].map(([name, wanted]) => {
    const before = had.get(name);
    const after = wanted === null ? null : text(`new ${name}`, wanted);
    return work(`games:${name}`, before === undefined ? null : text(name, before), after);
  });
}

function imageOf({ had }: Tree, sectorsPerCluster: number): FatImage {
  const disk = new FatImage({ mebibytes: sectorsPerCluster === 1 ? 34 : 260, sectorsPerCluster, label: 'CARD' });
  for (const [name, length] of had) disk.plant(`/card/${name}`, text(name, length));
  return disk;
}

/** Names of the files beside, as the write gives them on a card that has none. */
function beside(input: ApplyInput, works: readonly { readonly at: string }[]): readonly string[] {
  const counts = new Map<string, number>();
  expect(input.works.length).toBeGreaterThanOrEqual(works.length);
  return works.map(({ at }) => {
    const folder = at.slice(0, at.lastIndexOf('/') + 1);
    const count = counts.get(folder) ?? 0;
    counts.set(folder, count + 1);
    return `${folder}.thumbwright-${count}.new`;
  });
}

describe.skipIf(missing)('a FAT32 file system made by mkfs.fat', () => {
  it.each([1, 8])(
    'the forecast is what the file system takes, to the cluster (%i sectors a cluster)',
    (sectorsPerCluster) => {
      fc.assert(
        fc.property(trees, (tree) => {
          const disk = imageOf(tree, sectorsPerCluster);
          try {
            const input = inputOn(disk, worksOf(tree));
            const seen = survey(input);
            if (seen.kind !== 'survey') throw new Error(seen.why);
            const { survey: found } = seen;
            const start = disk.fsck();
            expect(start).toBe(disk.usedClusters());
            const room = forecastRoom(disk, found.roots, found, beside(input, found.changes), 'bits');
            if (room.kind !== 'forecast') throw new Error(room.why);
            const [forecast] = room.volumes;
            const applied = apply(input);
            expect(applied.value.kind).toBe('done');
            expect(disk.fsck() - start).toBe(forecast?.after ?? 0);
            expect(disk.peak - start).toBeLessThanOrEqual(forecast?.peak ?? 0);
            for (const [name, wanted] of tree.gets) {
              const read = disk.read(hostPath(`/card/${name}`));
              if (wanted === null) expect(read.kind).toBe('failed');
              else
                expect(read.kind === 'bytes' && Buffer.from(read.bytes).toString()).toBe(text(`new ${name}`, wanted));
            }
          } finally {
            disk.close();
          }
        }),
        { numRuns: Math.max(4, Math.floor(Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) / 50)) },
      );
    },
  );

  it('at the fullest, all new files stand beside all old ones: exactly what was foretold', () => {
    const tree: Tree = {
      had: new Map([
        ['HARROW/PLAY.CNF', 5000],
        ['HARROW/KEYS.CNF', 100],
      ]),
      gets: new Map([
        ['HARROW/PLAY.CNF', 9000],
        ['HARROW/KEYS.CNF', 200],
        ['HARROW/systems/a long name.conf', 4097],
      ]),
    };
    const disk = imageOf(tree, 8);
    try {
      const input = inputOn(disk, worksOf(tree));
      const start = disk.usedClusters();
      // 3 + 1 + 2 clusters of new files, and one for the new folder.
      expect(apply(input).value.kind).toBe('done');
      expect(disk.peak - start).toBe(7);
      // The old files took 2 + 1.
      expect(disk.fsck() - start).toBe(4);
      expect(undo(input).value.kind).toBe('done');
      expect(disk.fsck() - start).toBe(0);
    } finally {
      disk.close();
    }
  });

  it('a card that is too full is said to be so before anything is touched', () => {
    const disk = new FatImage({ mebibytes: 34, sectorsPerCluster: 1 });
    try {
      const space = disk.space(hostPath('/card'));
      if (space.kind !== 'space') throw new Error(space.why);
      disk.plant('/card/BIG.BIN', Buffer.alloc(space.free - 1024));
      const bytes = disk.bytes();
      const { value, findings } = apply(inputOn(disk, [work('games:a.conf', null, 'x'.repeat(1025))]));
      expect(value).toMatchObject({ kind: 'failed', state: 'all-old' });
      expect(findings.map(({ code }) => code)).toEqual(['not-enough-room']);
      expect(findings[0]?.detail).toContain('has 1024 bytes free');
      expect(disk.bytes().equals(bytes)).toBe(true);
      expect(apply(inputOn(disk, [work('games:a.conf', null, 'x'.repeat(1024))])).value.kind).toBe('done');
      expect(disk.space(hostPath('/card'))).toMatchObject({ free: 0 });
    } finally {
      disk.close();
    }
  });

  it('stopped at every change of the card, it can be brought to all old or all new', () => {
    const works = [
      work('games:HARROW/PLAY.CNF', 'old play', 'new play'),
      work('games:harrow/gone.conf', 'gone', null),
      work('games:harrow/systems/new.conf', null, 'new system'),
    ];
    const seen = new Set<string>();
    for (let at = 1; ; at++) {
      const disk = new StoppingImage(at);
      try {
        disk.plant('/card/HARROW/PLAY.CNF', 'old play');
        disk.plant('/card/HARROW/gone.conf', 'gone');
        const input = inputOn(disk, works);
        const stopped = disk.stops(() => apply(input));
        recover(input);
        const now = ['/card/HARROW', '/card/HARROW/systems'].map((folder) => {
          const listed = disk.list(hostPath(folder));
          return listed.kind === 'names' ? listed.names.join(', ') : 'none';
        });
        const read = disk.read(hostPath('/card/HARROW/PLAY.CNF'));
        now.push(read.kind === 'bytes' ? Buffer.from(read.bytes).toString() : 'none');
        expect(['PLAY.CNF, gone.conf; none; old play', 'PLAY.CNF, systems; new.conf; new play']).toContain(
          now.join('; '),
        );
        seen.add(now.join('; '));
        disk.fsck();
        if (!stopped) break;
      } finally {
        disk.close();
      }
    }
    expect(seen.size).toBe(2);
  });
});

class Stopped extends Error {}

/** Stops before the nth thing that is done to the card. */
class StoppingImage extends FatImage {
  private readonly at: number;
  private count = 0;
  private armed = false;

  constructor(at: number) {
    super({ mebibytes: 34, sectorsPerCluster: 1 });
    this.at = at;
  }

  stops(run: () => unknown): boolean {
    this.armed = true;
    try {
      run();
      return false;
    } catch (error) {
      if (error instanceof Stopped) return true;
      throw error;
    } finally {
      this.armed = false;
    }
  }

  private next(): void {
    this.count += this.armed ? 1 : 0;
    if (this.armed && this.count >= this.at) throw new Stopped();
  }

  override writeNew(...[at, bytes, ownership]: Parameters<FatImage['writeNew']>): ReturnType<FatImage['writeNew']> {
    if (at.startsWith('/card')) this.next();
    return super.writeNew(at, bytes, ownership);
  }

  override rename(from: HostPath, to: HostPath): DiskResult {
    this.next();
    return super.rename(from, to);
  }

  override remove(at: HostPath): DiskResult {
    this.next();
    return super.remove(at);
  }

  override makeFolder(at: HostPath): DiskResult {
    if (at.startsWith('/card')) this.next();
    return super.makeFolder(at);
  }
}
