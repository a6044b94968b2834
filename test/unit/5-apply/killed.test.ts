import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import { recover } from '../../../src/5-apply/recover.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import { BreakingDisk, Killed } from '../../support/breaking-disk.ts';
import { inputAt, placeAt, work } from '../../support/apply-world.ts';

const works = [
  work('games:sill/menu.json', '{"wide":1}\n', '{"wide":2}\n'),
  work('games:sill/old.json', '{}\n', null),
  work('settings:hall/play.conf', 'keep-place: off\nsoft: 1\n', 'keep-place: on\nsoft: 1\n'),
  work('settings:hall/systems/pocket/burdock.conf', null, 'engine: thrush\n', { mode: 0o600 }),
];

function card(): BreakingDisk {
  const disk = new BreakingDisk();
  disk.plant('/media/games/sill/menu.json', '{"wide":1}\n');
  disk.plant('/media/games/sill/old.json', '{}\n');
  disk.plant('/media/settings/hall/play.conf', 'keep-place: off\nsoft: 1\n', 0o640);
  disk.plant('/home/.thumbwright/cards/fen-1.yaml', 'record: 1\n');
  return disk;
}

function write(disk: BreakingDisk, pid = 42): ReturnType<typeof apply> {
  return apply({ ...inputAt(disk, works, 'record: 2\n'), pid });
}

/** The card and its record: all that must be whole. */
function picture(disk: BreakingDisk): string {
  return JSON.stringify([...disk.picture('/media'), ...disk.picture('/home/.thumbwright/cards')]);
}

const old = picture(card());
const fresh = ((): string => {
  const disk = card();
  write(disk);
  return picture(disk);
})();

type Cut =
  'killed' | 'power cut, nothing more lasted' | 'power cut, all names lasted' | 'power cut, every other folder lasted';

function cut(disk: BreakingDisk, how: Cut): void {
  let count = 0;
  if (how === 'power cut, nothing more lasted') disk.powerCut(() => false);
  if (how === 'power cut, all names lasted') disk.powerCut(() => true);
  if (how === 'power cut, every other folder lasted') disk.powerCut(() => count++ % 2 === 0);
}

/** Runs something that is killed at its nth call; false when it came through. */
function killedAt(disk: BreakingDisk, at: number, run: () => unknown): boolean {
  disk.calls = 0;
  disk.breakage = { kind: 'kill', at };
  try {
    run();
    return false;
  } catch (error) {
    if (error instanceof Killed) return true;
    throw error;
  } finally {
    disk.breakage = { kind: 'none' };
  }
}

const cuts: readonly Cut[] = [
  'killed',
  'power cut, nothing more lasted',
  'power cut, all names lasted',
  'power cut, every other folder lasted',
];

describe.each(cuts)('%s at every call of the disk, one after another', (how) => {
  it('recover gives all old or all new', () => {
    let at = 1;
    const seen = new Set<string>();
    for (; ; at++) {
      const disk = card();
      if (!killedAt(disk, at, () => write(disk))) break;
      cut(disk, how);
      const { value, findings } = recover({ ...placeAt(disk), pid: 43 });
      expect(value.kind !== 'nothing').toBe(findings.some(({ code }) => code === 'write-mended'));
      const now = picture(disk);
      expect([old, fresh], `killed at call ${at}`).toContain(now);
      seen.add(now);
      // What is said to be right lasts.
      disk.powerCut(() => false);
      expect(picture(disk), `killed at call ${at}, and cut again`).toBe(now);
      // The last note of a turn may be lost with the power: to go through with it again changes nothing.
      recover({ ...placeAt(disk), pid: 43 });
      expect(picture(disk), `killed at call ${at}, cut, recovered`).toBe(now);
      expect(recover({ ...placeAt(disk), pid: 43 }).value.kind).toBe('nothing');
    }
    expect(at).toBeGreaterThan(60);
    expect(seen.size).toBe(2);
  });

  it('writing again gives all new', () => {
    for (let at = 1; ; at++) {
      const disk = card();
      if (!killedAt(disk, at, () => write(disk))) break;
      cut(disk, how);
      recover({ ...placeAt(disk), pid: 43 });
      const again = write(disk, 43);
      // All new already: the plan that was made before it is stale, and is refused.
      expect(again.value.kind, `killed at call ${at}`).toBe(
        picture(disk) === fresh && again.value.kind === 'refused' ? 'refused' : 'done',
      );
      disk.powerCut(() => false);
      expect(picture(disk), `killed at call ${at}`).toBe(fresh);
    }
  });

  it('undo gives all old, also where the undo is killed and run again', () => {
    for (let at = 1; ; at++) {
      const disk = card();
      if (!killedAt(disk, at, () => write(disk))) break;
      cut(disk, how);
      undo({ ...placeAt(disk), pid: 43 });
      disk.powerCut(() => false);
      expect(picture(disk), `killed at call ${at}`).toBe(old);
    }
    for (let at = 1; ; at++) {
      const disk = card();
      write(disk);
      if (!killedAt(disk, at, () => undo(placeAt(disk)))) break;
      cut(disk, how);
      recover({ ...placeAt(disk), pid: 43 });
      expect([old, fresh], `undo killed at call ${at}`).toContain(picture(disk));
      undo({ ...placeAt(disk), pid: 44 });
      expect(picture(disk), `undo killed at call ${at}`).toBe(old);
    }
  });

  it('recover itself may be killed at every call', () => {
    for (let at = 7; ; at += 7) {
      const first = card();
      if (!killedAt(first, at, () => write(first))) break;
      for (let then = 1; ; then++) {
        const disk = card();
        killedAt(disk, at, () => write(disk));
        cut(disk, how);
        if (!killedAt(disk, then, () => recover({ ...placeAt(disk), pid: 43 }))) break;
        cut(disk, how);
        recover({ ...placeAt(disk), pid: 44 });
        expect([old, fresh], `killed at ${at}, then at ${then}`).toContain(picture(disk));
      }
    }
  });
});
