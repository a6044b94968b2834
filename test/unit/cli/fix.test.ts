import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';

describe('check --fix', () => {
  it('applies the mends that are certain, and no other byte changes', () => {
    inFolder((folder) => {
      const path = join(folder, 'profiles', 'house.yaml');
      const good = readFileSync(path, 'utf8');
      writeFileSync(path, good.replace('state-on-exit: true', 'state-on-exot: yes').replace('box-front', 'box-frnt'));
      expect(thumbwright(['check'], folder).status).toBe(1);
      const fixed = thumbwright(['check', '--fix'], folder);
      expect(fixed.said).toContain('mended profiles/house.yaml');
      // The misspelt key hides the wrong value behind it, so that a second round finds that.
      const again = thumbwright(['check', '--fix'], folder);
      expect(again.status).toBe(0);
      expect(readFileSync(path, 'utf8')).toBe(good);
    });
  });

  it('leaves a file alone when nothing is certain', () => {
    inFolder((folder) => {
      const path = join(folder, 'profiles', 'house.yaml');
      writeFileSync(path, readFileSync(path, 'utf8').replace('exit: {', 'zebra-crossing: {'));
      const before = readFileSync(path, 'utf8');
      expect(thumbwright(['check', '--fix'], folder).status).toBe(1);
      expect(readFileSync(path, 'utf8')).toBe(before);
    });
  });
});
