import { mkdtempSync, readFileSync, rmSync, writeFileSync, cpSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { nodeDisk } from '../../../src/files/node-disk.ts';
import { nodeFiles } from '../../../src/files/node.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { Shell } from '../../../src/verbs/contract.ts';
import { run } from '../../../src/verbs/write.ts';
import { makeCard } from '../../support/demo-card.ts';

interface Talk {
  readonly status: number;
  readonly out: string;
  /** Questions about hand changes. */
  readonly asked: readonly string[];
}

/** Runs `write fen` with somebody at the terminal: `choice` to each hand change, yes to all else. */
async function write(folder: string, choice: string): Promise<Talk> {
  const asked: string[] = [];
  let out = '';
  let tokens = 0;
  const shell: Shell = {
    files: nodeFiles,
    disk: nodeDisk,
    here: hostPath(folder),
    out: (text) => void (out += text),
    say: (text) => void (out += text),
    colour: { out: false, say: false },
    width: 80,
    path: (written) => hostPath(resolve(folder, written)),
    show: (path) => path,
    ask: (question) => {
      if (!question.includes('was changed on the device')) return Promise.resolve('y');
      asked.push(question);
      return Promise.resolve(choice);
    },
    environment: new Map([
      ['THUMBWRIGHT_SECRET_READING_ROOM', 'quiet, please'],
      ['THUMBWRIGHT_SECRET_SHELF_ACCOUNT', 'a reader'],
      ['THUMBWRIGHT_SECRET_SHELF_PASSWORD', 'rain on 7 roofs'],
    ]),
    home: undefined,
    stamp: () => '2026-11-25T15:04:05Z',
    token: () => (tokens++).toString(16).padStart(16, 'a'),
    git: () => ({ kind: 'absent' as const }),
    pid: process.pid,
    isAlive: () => false,
    watch: () => Promise.resolve(),
  };
  const status = await run(shell, ['fen'], { card: ['card'] });
  return { status, out, asked };
}

async function inWorkspace(work: (folder: string) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-ask-'));
  try {
    writeFileSync(join(folder, 'package.json'), '{}');
    cpSync('profiles', join(folder, 'profiles'), { recursive: true });
    makeCard(join(folder, 'card'));
    expect((await write(folder, '')).status).toBe(0);
    const play = join(folder, 'card', 'settings', 'hall', 'play.conf');
    writeFileSync(play, readFileSync(play, 'utf8').replace(/^flush: .*$/m, 'flush: 20000'));
    await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const flush = (folder: string): string | undefined =>
  /^flush: (.*)$/m.exec(readFileSync(join(folder, 'card', 'settings', 'hall', 'play.conf'), 'utf8'))?.[1];

describe('a hand change, asked about', () => {
  it.each([
    { choice: 'p', card: '10000', inProfile: false },
    { choice: 'c', card: '20000', inProfile: false },
    { choice: 's', card: '20000', inProfile: false },
    { choice: 'w', card: '20000', inProfile: true },
  ])('is settled by $choice, and not asked about again', async ({ choice, card, inProfile }) => {
    await inWorkspace(async (folder) => {
      const settled = await write(folder, choice);
      expect(settled.asked).toHaveLength(1);
      expect(settled.asked[0]).toContain('w  write it into the profile');
      const profile = readFileSync(join(folder, 'profiles', 'fen.yaml'), 'utf8');
      expect({
        status: settled.status,
        card: flush(folder),
        inProfile: profile.includes('write-save-every: 20 s'),
      }).toEqual({
        status: 0,
        card,
        inProfile,
      });
      const again = await write(folder, 'p');
      expect([again.status, again.asked, flush(folder)]).toEqual([0, [], card]);
    });
  });

  it('is asked about again when it is left', async () => {
    await inWorkspace(async (folder) => {
      expect((await write(folder, '')).asked).toHaveLength(1);
      expect((await write(folder, '')).asked).toHaveLength(1);
      expect(flush(folder)).toBe('20000');
    });
  });
});
