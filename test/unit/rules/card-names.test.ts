import { describe, expect, it } from 'vitest';
import { fileSystemOf } from '../../../src/rules/card/card-file-system.ts';
import { foldedAnywhere, foldedBy } from '../../../src/rules/card/fold-name.ts';
import { nameFaults } from '../../../src/rules/card/name-faults.ts';
import { readStandard } from '../../support/standards/read-standard.ts';

interface Names {
  readonly names: {
    readonly refused_EINVAL: readonly string[];
    readonly silently_changed: Readonly<Record<string, string>>;
  };
}

/** What Linux 6.1 did on images of both file systems (`fat-cases.json` says how). */
const measured = readStandard<{ readonly linux_vfat_6_1: Names; readonly exfat_linux_6_1: Names }>('fat-cases.json');

function stops(name: string, fileSystem: Parameters<typeof nameFaults>[1]): boolean {
  return nameFaults(name, fileSystem).some((fault) => fault.stops);
}

function sample(written: string): string {
  if (written === 'name ending in a space') return 'trail ';
  return written.startsWith('0x') ? `a${String.fromCharCode(Number(written))}b` : `a${written}b`;
}

describe.each([
  ['fat', measured.linux_vfat_6_1],
  ['exfat', measured.exfat_linux_6_1],
] as const)('names on %s', (fileSystem, { names }) => {
  it.each(names.refused_EINVAL)('refused by the driver, and by us: %s', (written) => {
    expect(stops(sample(written), fileSystem)).toBe(true);
  });

  it.each(Object.keys(names.silently_changed))('changed without a word, and refused by us: %s', (name) => {
    expect(stops(name, fileSystem)).toBe(true);
  });

  it.each(['.hidden', ' leading', 'a\x7fb', 'Game.cfg', 'con', 'nul.txt', 'Lpt9.a.b'])('held: %j', (name) => {
    expect(stops(name, fileSystem)).toBe(false);
  });

  it('counts UTF-16 units: 255 fit, 256 do not', () => {
    expect(stops('a'.repeat(255), fileSystem)).toBe(false);
    expect(stops('a'.repeat(256), fileSystem)).toBe(true);
    expect(stops(`${'😀'.repeat(127)}a`, fileSystem)).toBe(false);
    expect(stops('😀'.repeat(128), fileSystem)).toBe(true);
  });
});

describe('names', () => {
  it('of over 255 bytes are told of on FAT, which refuses them as it is mounted by default, and not on exFAT', () => {
    expect(nameFaults('é'.repeat(128), 'fat')).toHaveLength(1);
    expect(nameFaults('é'.repeat(128), 'exfat')).toEqual([]);
    expect(stops('é'.repeat(128), 'unix')).toBe(true);
    expect(stops('é'.repeat(127), 'unix')).toBe(false);
  });

  it('that end in a blank are held by exFAT, and not by every desktop', () => {
    expect(nameFaults('trail ', 'exfat').map((fault) => fault.stops)).toEqual([false]);
  });

  it.each(['CON', 'prn', 'aux.conf', 'Nul.tar.gz', 'COM1', 'lpt9', 'con .txt'])(
    'are kept for devices, with any ending: %s',
    (name) => {
      expect(nameFaults(name, 'unix').map((fault) => fault.stops)).toEqual([false]);
    },
  );

  it.each(['com10', 'console', 'com0', 'a.con', 'lpt'])('are not kept for devices: %s', (name) => {
    expect(nameFaults(name, 'fat')).toEqual([]);
  });

  it('fold as measured: ASCII on FAT, all letters on exFAT, none on the others', () => {
    const same = (a: string, b: string, system: Parameters<typeof foldedBy>[1]): boolean =>
      foldedBy(a, system) === foldedBy(b, system);
    expect(same('Game.cfg', 'GAME.CFG', 'fat')).toBe(true);
    expect(same('é.cfg', 'É.cfg', 'fat')).toBe(false);
    expect(same('é.cfg', 'É.cfg', 'exfat')).toBe(true);
    expect(same('straße', 'STRASSE', 'exfat')).toBe(false);
    expect(same('a', 'A', 'unix')).toBe(false);
    // NFC and NFD are two files everywhere, and look alike.
    expect(same('caf\u00e9', 'cafe\u0301', 'exfat')).toBe(false);
    expect(foldedAnywhere('caf\u00e9')).toBe(foldedAnywhere('CAFE\u0301'));
  });

  it('of file systems are known as people write them', () => {
    expect(
      ['FAT32', 'vfat', 'fat', 'exFAT', 'ext4', 'f2fs', 'zfs'].map((filesystem) =>
        fileSystemOf({ name: 'x', filesystem }),
      ),
    ).toEqual(['fat', 'fat', 'fat', 'exfat', 'unix', 'unix', 'unknown']);
    expect(fileSystemOf(undefined)).toBe('unknown');
  });
});
