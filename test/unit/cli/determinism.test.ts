import { mkdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { readFolder } from '../../support/world.ts';

function hex(files: Record<string, Uint8Array>): Record<string, string> {
  return Object.fromEntries(Object.entries(files).map(([path, bytes]) => [path, Buffer.from(bytes).toString('hex')]));
}

describe('build', () => {
  it('gives the same bytes in another folder, time zone and language, and on a second run', () => {
    const build = (environment: Record<string, string>, below: string): Record<string, string> =>
      inFolder((folder) => {
        const place = join(folder, below);
        if (below !== '.') {
          mkdirSync(place, { recursive: true });
          for (const name of ['package.json', 'profiles']) renameSync(join(folder, name), join(place, name));
        }
        expect(thumbwright(['build'], place, environment).status).toBe(0);
        const first = hex(readFolder(join(place, 'out')));
        const second = thumbwright(['build'], place, environment);
        expect(second.out.match(/all as they were/g)?.length).toBe(3);
        expect(hex(readFolder(join(place, 'out')))).toEqual(first);
        return { ...first, lock: hex(readFolder(join(place, '.thumbwright')))['lock.yaml'] ?? '' };
      });
    const one = build({ TZ: 'Pacific/Auckland', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' }, '.');
    const two = build({ TZ: 'America/St_Johns', LANG: 'C', LC_ALL: 'C' }, 'a folder with blanks/ünïcode');
    expect(Object.keys(one).length).toBeGreaterThan(30);
    expect(two).toEqual(one);
  });
});
