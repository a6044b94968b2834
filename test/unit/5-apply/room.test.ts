import { describe, expect, it } from 'vitest';
import { clustersOf, entriesOf, FolderSlots } from '../../../src/5-apply/room.ts';
import { readStandard } from '../../support/standards/read-standard.ts';

/** What mkfs.fat 4.2, mtools 4.0.32 and Linux 6.1 did; how each was measured stands in the file. */
interface Cases {
  readonly mtools_cases: readonly {
    readonly id: string;
    readonly cluster_bytes: number;
    readonly label: string | null;
    readonly directory: string | null;
    readonly files:
      | readonly { readonly name: string; readonly size: number }[]
      | { readonly count: number; readonly first: string; readonly last: string; readonly size_each: number };
    readonly used_before: number;
    readonly used_after: number;
  }[];
  readonly linux_vfat_6_1: {
    readonly cases: readonly {
      readonly options: string;
      readonly names: string;
      readonly extra_after: Readonly<Record<string, number>>;
    }[];
  };
  readonly exfat_linux_6_1: {
    readonly directory_clusters: readonly {
      readonly name_units: number;
      readonly after: Readonly<Record<string, number>>;
    }[];
    readonly file_clusters: Readonly<Record<string, number>>;
  };
}

const cases = readStandard<Cases>('fat-cases.json');

function filesOf(
  files: Cases['mtools_cases'][number]['files'],
): readonly { readonly name: string; readonly size: number }[] {
  if (!('count' in files)) return files;
  const last = String(files.count - 1);
  const at = files.last.lastIndexOf(last);
  return Array.from({ length: files.count }, (_, index) => ({
    name: `${files.last.slice(0, at)}${String(index).padStart(last.length, '0')}${files.last.slice(at + last.length)}`,
    size: files.size_each,
  }));
}

describe('clusters, as measured on real file systems', () => {
  it.each(cases.mtools_cases.map((one) => [one.id, one] as const))('mtools: %s', (_, one) => {
    const space = { cluster: one.cluster_bytes, fileSystem: 'fat' } as const;
    const root = new FolderSlots(space, { clusters: 1, fixed: one.label === null ? 0 : 1, names: [] }, 'bits');
    const below = new FolderSlots(space, { clusters: 0, fixed: 2, names: [] }, 'bits');
    if (one.directory !== null) root.add(one.directory);
    const files = filesOf(one.files);
    for (const { name } of files) (one.directory === null ? root : below).add(name);
    const data = files.reduce((sum, { size }) => sum + clustersOf(size, one.cluster_bytes), 0);
    // The file counts the folder that is there already before, where there is one.
    const folders = root.growth + (one.directory === null ? 0 : below.growth);
    expect(1 + data + folders).toBe(one.used_after);
  });

  it.each(cases.linux_vfat_6_1.cases.map((one) => [`${one.options}, ${one.names}`, one] as const))(
    'Linux vfat: %s',
    (_, one) => {
      const lowerCase = one.options.includes('winnt') ? 'bits' : 'long-name';
      const named = /(\d+) units/.exec(one.names)?.[1];
      const [stem = '', end = ''] = (one.names.split(' ')[0] ?? '').split('.');
      const nameAt = (count: number): string =>
        named === undefined
          ? `${stem.slice(0, 1)}${String(count).padStart(3, '0')}.${end}`
          : `Long name ${String(count).padStart(Number(named) - 10, '0')}`;
      for (const [count, extra] of Object.entries(one.extra_after)) {
        const folder = new FolderSlots(
          { cluster: 4096, fileSystem: 'fat' },
          { clusters: 1, fixed: 2, names: [] },
          lowerCase,
        );
        for (let at = 0; at < Number(count); at++) folder.add(nameAt(at));
        expect(folder.growth, count).toBe(extra);
      }
    },
  );

  it.each(cases.exfat_linux_6_1.directory_clusters.map((one) => [one.name_units, one.after] as const))(
    'Linux exFAT: names of %i units',
    (units, after) => {
      for (const [count, clusters] of Object.entries(after)) {
        const folder = new FolderSlots({ cluster: 4096, fileSystem: 'exfat' }, { clusters: 0, fixed: 0, names: [] });
        for (let at = 0; at < Number(count); at++) folder.add(String(at).padStart(units, 'n'));
        expect(folder.growth, count).toBe(clusters);
      }
    },
  );

  it('Linux exFAT: files', () => {
    for (const [size, clusters] of Object.entries(cases.exfat_linux_6_1.file_clusters))
      expect(clustersOf(Number(size), 4096), size).toBe(clusters);
  });
});

describe('the slots of a folder', () => {
  const space = { cluster: 512, fileSystem: 'fat' } as const;

  it('a gap is used again when it is long enough, and the folder never shrinks', () => {
    const folder = new FolderSlots(space, {
      clusters: 1,
      fixed: 2,
      names: Array.from({ length: 14 }, (_, at) => `A${at}`),
    });
    folder.remove('A3');
    folder.add('B');
    expect(folder.growth).toBe(0);
    folder.remove('A5');
    folder.add('a name of two entries');
    expect(folder.growth).toBe(1);
    folder.remove('a name of two entries');
    expect(folder.growth).toBe(1);
  });

  it('a name of 255 units takes 21 entries on FAT (20 long ones, the most there are) and 19 on exFAT', () => {
    expect(entriesOf('n'.repeat(255), 'fat')).toBe(21);
    expect(entriesOf('n'.repeat(255), 'exfat')).toBe(19);
  });

  it('other file systems: a new folder takes a cluster', () => {
    const other = { cluster: 4096, fileSystem: 'other' } as const;
    expect(new FolderSlots(other, { clusters: 0, fixed: 0, names: [] }).growth).toBe(1);
    expect(new FolderSlots(other, { clusters: 1, fixed: 0, names: ['a'] }).growth).toBe(0);
  });
});
