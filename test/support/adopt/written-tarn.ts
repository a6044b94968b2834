import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { inFolder, thumbwright } from '../cli.ts';

const secrets = {
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'a reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'rain on 7 roofs',
  THUMBWRIGHT_SECRET_READING_ROOM: 'quiet, please',
};

/** A folder with the demo and, in `card`, Tarn's card as `write` leaves it; `run` knows the passwords. */
export function onWrittenTarn(
  work: (folder: string, run: (...args: readonly string[]) => ReturnType<typeof thumbwright>) => void,
): void {
  inFolder((folder) => {
    const run = (...args: readonly string[]): ReturnType<typeof thumbwright> => thumbwright(args, folder, secrets);
    expect(run('build', 'tarn').status).toBe(0);
    cpSync(join(folder, 'out', 'tarn'), join(folder, 'card'), { recursive: true });
    const wrote = run('write', 'tarn', '--card', 'card', '--yes');
    expect([wrote.status, wrote.said]).toEqual([0, expect.any(String)]);
    work(folder, run);
  });
}
