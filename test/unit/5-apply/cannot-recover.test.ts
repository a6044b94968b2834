import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { recover } from '../../../src/5-apply/recover.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import { BreakingDisk, Killed } from '../../support/breaking-disk.ts';
import { inputAt, placeAt, work } from '../../support/apply-world.ts';

const works = [
  work('games:sill/menu.json', '{"wide":1}\n', '{"wide":2}\n'),
  work('settings:hall/play.conf', 'soft: 1\n', 'soft: 2\n'),
];
const turns = '/home/.thumbwright/private/cards/fen-1/turns';

/** A card whose write was killed at the nth call of the disk; undefined: it came through. */
function killed(at: number): BreakingDisk | undefined {
  const disk = new BreakingDisk();
  disk.plant('/media/games/sill/menu.json', '{"wide":1}\n');
  disk.plant('/media/settings/hall/play.conf', 'soft: 1\n');
  disk.calls = 0;
  disk.breakage = { kind: 'kill', at };
  try {
    apply(inputAt(disk, works, 'record: 2\n'));
    return undefined;
  } catch (error) {
    if (!(error instanceof Killed)) throw error;
    return disk;
  } finally {
    disk.breakage = { kind: 'none' };
  }
}

/** The journal of the write that is under way, if there is one. */
function journal(disk: BreakingDisk): readonly [string, string] | undefined {
  const [found] = [...disk.picture(turns)].filter(([name]) => /\.(begun|kept)$/.test(name));
  return found === undefined
    ? undefined
    : [`${turns}/${found[0].replace(/^\//, '')}`, found[1].replace(/^[0-7]+ /, '')];
}

const card = (disk: BreakingDisk): string => JSON.stringify([...disk.picture('/media')]);

describe('a killed write that cannot be put right now', () => {
  it.each(['its journal is damaged', 'a part of it is not there'] as const)(
    'is left as it is by recover, write and undo while %s; afterwards it ends all old or all new',
    (how) => {
      const ends = new Set<string>();
      for (let at = 1; ; at += 1) {
        const disk = killed(at);
        if (disk === undefined) break;
        const found = journal(disk);
        if (found === undefined) continue;
        const [path, text] = found;
        const damaged = how === 'its journal is damaged';
        if (damaged) disk.plant(path, text.slice(0, Math.floor(text.length / 2)));
        const place = placeAt(disk);
        const parts = damaged ? place.parts : new Map([...place.parts].filter(([name]) => name !== 'settings'));
        const there = { ...place, parts, pid: 43 };
        const before = card(disk);
        for (const run of [
          () => recover(there),
          () => undo(there),
          () => apply({ ...inputAt(disk, works, 'record: 2\n'), parts, pid: 43 }),
        ]) {
          const { value, findings } = run();
          expect(value.kind, `killed at call ${at}`).toBe('failed');
          expect(findings.map(({ code }) => code)).toContain(damaged ? 'workspace-failed' : 'card-failed');
          expect(card(disk), `killed at call ${at}`).toBe(before);
        }
        if (damaged) disk.plant(path, text);
        expect(['all-old', 'all-new']).toContain(recover({ ...place, pid: 44 }).value.kind);
        ends.add(card(disk));
      }
      expect(ends.size).toBe(2);
    },
  );
});
