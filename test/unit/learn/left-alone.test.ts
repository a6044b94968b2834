// Folders that hold more than configuration: what is left alone, and why, and that the rest is learnt all the same.
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { nodeFiles } from '../../../src/files/node.ts';
import { readCopy } from '../../../src/learn/copies/read-copy.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { inFolder, thumbwright } from '../../support/cli.ts';
import { makeWorld } from '../../support/world.ts';
import type { Step } from '../../support/world.ts';

const text = (file: string, content: string): Step => ({ file: `copy/${file}`, text: content });
const bytes = (file: string, beginning: string): Step => ({
  file: `copy/${file}`,
  bytes: [...Buffer.from(beginning, 'latin1'), 0, 1, 2, 3, 0, 255],
});

/** Reads the folder `copy` of a world; what is left alone, by path. */
function leftAlone(steps: readonly Step[]): { readonly texts: readonly string[]; readonly left: object } {
  const copy = readCopy(makeWorld({}, steps), hostPath('/w/copy'), 'copy');
  return {
    texts: [...copy.texts.keys()],
    left: Object.fromEntries(copy.leftAlone.map(({ path, why }) => [path, why])),
  };
}

describe('a copy', () => {
  it('leaves alone what is no text, by how it begins and not by its name', () => {
    const found = leftAlone([
      text('play.conf', 'keep-place: off\n'),
      bytes('cover.png', '\x89PNG\r\n\x1a\n'),
      bytes('cover.conf', '\xff\xd8\xff\xe0'),
      bytes('tile.ini', 'GIF89a'),
      bytes('index', 'SQLite format 3\0'),
      bytes('player', '\x7fELF'),
      bytes('themes.json', 'PK\x03\x04'),
      bytes('states.gz', '\x1f\x8b\x08'),
      bytes('click.ogg', 'OggS'),
      bytes('cache.yaml', 'a: 1'),
      { file: 'copy/wide.ini', bytes: [...Buffer.from('\ufeff[a]\nb=1\n', 'utf16le')] },
    ]);
    expect(found).toEqual({
      texts: ['play.conf'],
      left: {
        'cover.png': 'a picture',
        'cover.conf': 'a picture',
        'tile.ini': 'a picture',
        index: 'a database',
        player: 'a program',
        'themes.json': 'an archive',
        'states.gz': 'an archive',
        'click.ogg': 'a sound',
        'cache.yaml': 'binary',
        'wide.ini': 'binary',
      },
    });
  });

  it('leaves alone logs, what is too large to be set by hand, and what the disk does not give', () => {
    const found = leftAlone([
      text('play.conf', 'keep-place: off\n'),
      text('run.log', 'a=1\n'),
      text('run.log.3', 'a=1\n'),
      { file: 'copy/trace.txt', repeat: { text: 'frame=1\n', times: 200_000 } },
      { file: 'copy/claims.conf', text: 'a: 1\n' },
      { file: 'copy/claims.conf', unreadable: 'input/output error' },
      text(`${'deeper/'.repeat(14)}play.conf`, 'a: 1\n'),
    ]);
    expect(found.texts).toEqual(['play.conf']);
    expect(found.left).toMatchObject({
      'run.log': 'a log',
      'run.log.3': 'a log',
      'trace.txt': 'too large',
      'claims.conf': 'it cannot be read',
    });
    expect(Object.values(found.left)).toContain('it lies too deep');
  });

  it('follows no link, and opens no pipe', () => {
    const folder = mkdtempSync(join(tmpdir(), 'thumbwright-copy-'));
    try {
      mkdirSync(join(folder, 'copy'));
      writeFileSync(join(folder, 'outside.conf'), 'keep-place: on\n');
      symlinkSync(join(folder, 'outside.conf'), join(folder, 'copy', 'linked.conf'));
      symlinkSync(folder, join(folder, 'copy', 'round'));
      // A pipe that nobody writes into would hold up whoever opens it.
      spawnSync('mkfifo', [join(folder, 'copy', 'pipe.conf')]);
      writeFileSync(join(folder, 'copy', 'play.conf'), 'keep-place: off\n');
      const copy = readCopy(nodeFiles, hostPath(join(folder, 'copy')), 'copy');
      expect([...copy.texts.keys()]).toEqual(['play.conf']);
      expect(copy.leftAlone).toEqual([
        { path: 'linked.conf', why: 'a link' },
        { path: 'pipe.conf', why: 'a special file' },
        { path: 'round', why: 'a link' },
      ]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe('learn', () => {
  it('lists what it left alone, and learns from the rest', () => {
    inFolder((folder) => {
      for (const [copy, place] of [
        ['before', 'off'],
        ['after', 'on'],
      ] as const) {
        mkdirSync(join(folder, copy));
        writeFileSync(join(folder, copy, 'play.conf'), `keep-place: ${place}\nflush: 5000\nrows: 7\n`);
        writeFileSync(join(folder, copy, 'cover.png'), Buffer.from('\x89PNG\r\n\x1a\n\0\0', 'latin1'));
        writeFileSync(join(folder, copy, 'run.txt'), 'frame 1 took 16 ms\n'.repeat(80_000));
        writeFileSync(join(folder, copy, 'index.db'), Buffer.from('SQLite format 3\0\0\0', 'latin1'));
        writeFileSync(join(folder, copy, 'notes'), 'remember to feed the heron\nand the other heron\n');
        // Not UTF-8, as an old program writes it: text all the same.
        writeFileSync(join(folder, copy, 'old.conf'), Buffer.from('title: Caf\xe9\ndepth: 3\n', 'latin1'));
      }
      const ran = thumbwright(
        ['learn', 'fen', 'before', 'after', '--frontend', 'player', '--changed', 'saves.state-on-exit=true'],
        folder,
      );
      expect([ran.status, ran.said]).toEqual([0, expect.stringContaining('wrote profiles/dialects/player.yaml')]);
      for (const line of [
        'cover.png: left alone, a picture',
        'run.txt: left alone, too large',
        'index.db: left alone, a database',
        'notes: left alone, no file format explains it',
      ])
        expect(ran.out).toContain(line);
      expect(ran.out).toMatch(/^Sure:\n {2}saves\.state-on-exit: keep-place in play\.conf/m);
      expect(ran.out).toContain('old.conf: pairs');
    });
  });

  it('says that two folders are of two frontends, and writes nothing', () => {
    inFolder((folder) => {
      mkdirSync(join(folder, 'before'));
      mkdirSync(join(folder, 'after'));
      writeFileSync(join(folder, 'before', 'play.conf'), 'keep-place: off\n');
      writeFileSync(join(folder, 'after', 'shelf.json'), '{ "clock": true }\n');
      const args = ['learn', 'fen', 'before', 'after', '--frontend', 'player', '--changed', 'saves.state-on-exit=true'];
      const ran = thumbwright([...args, '--take', 'likely'], folder);
      expect([ran.status, ran.said]).toEqual([1, expect.stringContaining('before and after have no file in common.')]);
      expect(ran.said).toContain('Give copies of one frontend');
      expect(ran.said).not.toMatch(/\bat .*:\d+:\d+|wrote/);
      writeFileSync(join(folder, 'after', 'play.conf'), 'clock: shown\nrows: 7\n');
      expect(thumbwright(args, folder).said).toContain('not one of its keys in common');
    });
  });

  it('says what contradicts itself in the labels, and writes nothing', () => {
    inFolder((folder) => {
      for (const [copy, place] of [
        ['before', 'off'],
        ['after', 'on'],
      ] as const) {
        mkdirSync(join(folder, copy));
        writeFileSync(join(folder, copy, 'play.conf'), `keep-place: ${place}\n`);
      }
      const ran = thumbwright(
        [
          ...['learn', 'fen', 'before', 'after', '--frontend', 'player'],
          ...['--changed', 'saves.state-on-exit=true', '--changed', 'saves.state-on-exit=false'],
        ],
        folder,
      );
      expect([ran.status, ran.said]).toEqual([
        1,
        expect.stringContaining('two different things are said about saves.state-on-exit'),
      ]);
      expect(ran.said).not.toContain('wrote');
    });
  });
});
