import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { pack } from 'tar-stream';
import type { Headers } from 'tar-stream';
import { afterAll, describe, expect, it } from 'vitest';
import { findRuns } from '../../../src/device/find-runs.ts';
import { fetchedBounds, readFetched } from '../../../src/device/read-fetched.ts';
import { archiveBound, unpackArchive } from '../../../src/device/unpack-archive.ts';
import type { Unpacked } from '../../../src/device/unpack-archive.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { requireTool } from '../../support/tool.ts';

const disk = mkdtempSync(join(tmpdir(), 'thumbwright archive '));
afterAll(() => rmSync(disk, { recursive: true, force: true }));

async function archive(...entries: readonly (readonly [Headers, string?])[]): Promise<Uint8Array> {
  const made = pack();
  for (const [header, content] of entries) made.entry(header, content ?? '');
  made.finalize();
  const parts: Buffer[] = [];
  for await (const part of made) parts.push(part);
  return Buffer.concat(parts);
}

/** What came out: paths with their texts, and what was left. */
function told(unpacked: Unpacked): { readonly paths: readonly string[]; readonly left: readonly string[] } {
  if (unpacked.kind !== 'files') throw new Error(unpacked.why);
  const { files, left } = unpacked;
  const walk = (at: string): readonly string[] =>
    (files.list(hostPath(at)) ?? []).flatMap(({ name, kind }) =>
      kind === 'folder' ? walk(`${at}/${name}`) : [`${at}/${name}`],
    );
  return { paths: walk(''), left };
}

function complaint(unpacked: Unpacked): string {
  return unpacked.kind === 'unreadable' ? `${unpacked.why}. ${unpacked.wayOut}` : 'none';
}

/** A fetched run below `disk`, with a path longer than a header of ustar takes (256 bytes) and a link. */
function run(): readonly string[] {
  const long = ['files', ...Array.from({ length: 8 }, (_, k) => `${'a long folder '.repeat(3)}${k}`)].join('/');
  const top = join(disk, 'card', 'thumbwright-fetch');
  mkdirSync(join(top, '1', long), { recursive: true });
  const texts = {
    'DONE.txt': 'Done.\n',
    '1/DONE.txt': 'Done.\n',
    '1/about.txt': 'word-size: 64\n',
    [`1/${long}/é.conf`]: 'x: 1\n',
  };
  for (const [path, text] of Object.entries(texts)) writeFileSync(join(top, path), text);
  symlinkSync('/etc/passwd', join(top, '1/files/link'));
  return Object.keys(texts).map((path) => `/thumbwright-fetch/${path}`);
}

describe('unpackArchive', () => {
  const paths = run();

  // Both programs as the judge of the format: GNU tar (Debian tar) in each of its formats, and busybox's.
  it.each([
    ['GNU tar, gnu', ['tar', '--format=gnu']],
    ['GNU tar, pax', ['tar', '--format=pax']],
    ['busybox tar', ['busybox', 'tar']],
  ] as const)('reads what %s packed, gzipped or not, from wherever it was packed', async (_, [program, ...args]) => {
    if (requireTool(program, program)) return;
    for (const [folder, what] of [
      ['card', 'thumbwright-fetch'],
      ['.', 'card/thumbwright-fetch'],
      ['card', './thumbwright-fetch'],
    ] as const) {
      const file = join(disk, 'made.tar');
      expect(spawnSync(program, [...args, '-cf', file, '-C', join(disk, folder), what]).status).toBe(0);
      const bytes = readFileSync(file);
      for (const packed of [bytes, gzipSync(bytes)]) {
        const unpacked = await unpackArchive(packed);
        expect([...told(unpacked).paths].sort()).toEqual([...paths].sort());
        expect(told(unpacked).left).toEqual([expect.stringMatching(/thumbwright-fetch\/1\/files\/link: a link$/)]);
        if (unpacked.kind !== 'files') continue;
        const { runs } = findRuns(unpacked.files, hostPath('/'));
        expect(runs).toEqual(['/thumbwright-fetch/1']);
        const { value } = readFetched(unpacked.files, hostPath('/thumbwright-fetch/1'));
        expect(value?.files.size).toBe(3);
      }
    }
  });

  it('takes no way out: absolute and climbing names, links of both kinds, devices, second names, a file for a folder', async () => {
    const packed = await archive(
      [{ name: '/etc/passwd' }, 'x'],
      [{ name: '../up' }, 'x'],
      [{ name: 'a/../../up' }, 'x'],
      [{ name: 'soft', type: 'symlink', linkname: '/etc' }],
      [{ name: 'hard', type: 'link', linkname: '/etc/passwd' }],
      [{ name: 'tty', type: 'character-device', devmajor: 5, devminor: 0 }],
      [{ name: 'pipe', type: 'fifo' }],
      [{ name: 'good' }, '1'],
      [{ name: './good' }, '2'],
      [{ name: 'soft/under' }, 'x'],
      [{ name: 'good/under' }, 'x'],
      [{ name: '__proto__/x' }, 'x'],
    );
    const { paths: found, left } = told(await unpackArchive(packed));
    expect(found).toEqual(['/__proto__/x', '/good', '/soft/under']);
    expect(left).toEqual([
      '/etc/passwd: its name leads out of the archive',
      '../up: its name leads out of the archive',
      'a/../../up: its name leads out of the archive',
      'soft: a link',
      'hard: a link',
      'tty: a special file',
      'pipe: a special file',
      './good: a second one of that name',
      'good/under: a file has the name of its folder',
    ]);
  });

  it('takes no more than fits, packed or unpacked', async () => {
    const large = Buffer.alloc(fetchedBounds.events + 1, 'x').toString();
    const { paths: found, left } = told(
      await unpackArchive(await archive([{ name: 'large' }, large], [{ name: 'b' }, 'x'])),
    );
    expect(found).toEqual(['/b']);
    expect(left).toEqual(['large: too large']);
    const bomb = gzipSync(Buffer.alloc(archiveBound + 1));
    expect(bomb.length).toBeLessThan(1 << 20);
    expect(complaint(await unpackArchive(bomb))).toContain('320 MiB');
  });

  it('says what an archive is not, and a way out', async () => {
    const good = await archive([{ name: 'a' }, 'x'.repeat(2000)]);
    const gzipped = gzipSync(good);
    for (const [bytes, why] of [
      [new Uint8Array(), 'no tar archive'],
      [Buffer.alloc(10240), 'no tar archive'],
      [Buffer.from('hello'.repeat(500)), 'no tar archive'],
      [good.subarray(0, 1024), 'damaged'],
      [gzipped.subarray(0, gzipped.length - 20), 'breaks off'],
      [Buffer.from('PK\u0003\u0004'), 'zip archive'],
    ] as const) {
      const unpacked = await unpackArchive(bytes);
      expect(complaint(unpacked)).toContain(why);
      expect(complaint(unpacked)).toContain('the folder');
    }
  });
});
