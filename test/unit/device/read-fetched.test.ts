import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readCapture } from '../../../src/controls/capture/read-capture.ts';
import { writeCapture } from '../../../src/controls/capture/write-capture.ts';
import { fetchedBounds, readFetched } from '../../../src/device/read-fetched.ts';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { PressRecorder, procList } from '../../support/controls/press-recorder.ts';

const disk = mkdtempSync(join(tmpdir(), 'thumbwright-fetched-'));
afterAll(() => rmSync(disk, { recursive: true, force: true }));

describe('readFetched', () => {
  it('gives the parts of a capture, which is then read', () => {
    const events =
      new PressRecorder(32).key('event0', 0x130).key('event0', 0x131).events().get('event0') ?? new Uint8Array();
    const files = new MemoryFiles({
      '/f/1/DONE.txt': 'done\n',
      '/f/1/about.txt': 'made: 2026-11-20 10:00\nword-size: 32\n',
      '/f/1/inputs.txt': procList([{ event: 'event0', keys: [0x130, 0x131] }], 32),
      '/f/1/press-order.txt': 'south\neast\n',
      '/f/1/events/event0': events,
      '/f/1/events/event1': '',
      '/f/1/files/settings/play.conf': 'keep-place: on\n',
    });
    const { value, findings } = readFetched(files, hostPath('/f/1'));
    expect(findings).toEqual([]);
    expect(value?.files.has('files/settings/play.conf')).toBe(true);
    const controls = value?.controls;
    if (controls?.wordSize === undefined) throw new Error('no controls');
    const text = writeCapture({ ...controls, wordSize: controls.wordSize });
    const capture = readCapture({ name: 'capture.txt', text });
    expect(capture.findings).toEqual([]);
    expect([...(capture.value?.pressed.keys() ?? [])]).toEqual(['south', 'east']);
  });

  it('says which run to name when there is none at the path', () => {
    const files = new MemoryFiles({ '/f/1/DONE.txt': '', '/f/12/DONE.txt': '' });
    const { value, findings } = readFetched(files, hostPath('/f'));
    expect(value).toBeUndefined();
    expect(findings[0]).toMatchObject({ code: 'not-fetched', wayOut: 'Name the run in it: add /12 to the path.' });
    expect(readFetched(files, hostPath('/nowhere')).findings[0]?.wayOut).toContain('thumbwright-fetch');
  });

  it('takes one of two names that a desktop takes for one, and none that some desktop cannot hold', () => {
    const names = ['A.conf', 'a.conf', 'caf\u00e9', 'cafe\u0301', 'B/x', 'b', 'c', 'C/x', 'con.txt', 'ends.', 'ask?'];
    const files = new MemoryFiles({
      '/f/1/DONE.txt': '',
      ...Object.fromEntries(names.map((name) => [`/f/1/files/${name}`, 'x'])),
    });
    const { value, findings } = readFetched(files, hostPath('/f/1'));
    expect([...(value?.files.keys() ?? [])].sort()).toEqual(
      ['DONE.txt', 'files/A.conf', 'files/B/x', 'files/C/x', 'files/cafe\u0301'].sort(),
    );
    expect(findings.map(({ code }) => code)).toEqual(['fetched-left-out']);
    expect(findings[0]?.detail).toContain('files/a.conf: another has that name, but for capital letters or accents');
  });

  it('follows no link, and takes no name or size that it should not', () => {
    const folder = join(disk, '1');
    mkdirSync(join(folder, 'files'), { recursive: true });
    writeFileSync(join(disk, 'secret'), 'outside');
    writeFileSync(join(folder, 'DONE.txt'), 'done');
    symlinkSync(join(disk, 'secret'), join(folder, 'files', 'link.conf'));
    symlinkSync(disk, join(folder, 'files', 'up'));
    writeFileSync(join(folder, 'files', 'a\\..\\b'), 'x');
    writeFileSync(join(folder, 'files', 'esc\u001b[2J'), 'x');
    writeFileSync(join(folder, 'files', 'large'), Buffer.alloc(fetchedBounds.file + 1));
    writeFileSync(join(folder, 'files', 'good.conf'), 'x');
    const { value, findings } = readFetched(nodeFiles, hostPath(folder));
    expect([...(value?.files.keys() ?? [])]).toEqual(['DONE.txt', 'files/good.conf']);
    expect(findings.map(({ code }) => code)).toEqual(['fetched-left-out']);
    expect(findings[0]?.detail).not.toContain('\u001b');
    const again = nodeFiles;
    rmSync(join(folder, 'DONE.txt'));
    symlinkSync(join(disk, 'secret'), join(folder, 'DONE.txt'));
    expect(readFetched(again, hostPath(folder)).findings[0]?.code).toBe('not-fetched');
  });
});
