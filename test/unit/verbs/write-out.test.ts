import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { writeOut } from '../../../src/verbs/write-out.ts';
import { FailingFiles } from '../../support/failing-files.ts';

const wanted = ['a', 'b', 'c', 'd'].map((name) => ({
  path: hostPath(`/out/${name}`),
  bytes: Buffer.from(`new ${name}`),
  mode: undefined,
}));
const before = { '/out/a': 'old a', '/out/c': 'old c' };

function contents(files: FailingFiles): Readonly<Record<string, string>> {
  return Object.fromEntries(
    (files.list(hostPath('/out')) ?? []).map(({ name }) => {
      const read = files.read(hostPath(`/out/${name}`));
      return [`/out/${name}`, read.kind === 'bytes' ? Buffer.from(read.bytes).toString() : read.kind];
    }),
  );
}

describe('writing out/', () => {
  it.each([1, 2, 3, 4])('leaves all as it was when write %i fails', (n) => {
    const files = new FailingFiles(before, n);
    const wrote = writeOut(files, wanted);
    expect(wrote).toEqual({ kind: 'failed', path: wanted[n - 1]?.path, why: 'no space is left', left: [] });
    expect(contents(files)).toEqual(before);
  });

  it('says which files it could not put back when the disk goes on failing', () => {
    const files = new FailingFiles(before, 4, true);
    const wrote = writeOut(files, wanted);
    // b was not there before, and is taken away; a and c cannot be written again.
    expect(wrote).toEqual({
      kind: 'failed',
      path: wanted[3]?.path,
      why: 'no space is left',
      left: [wanted[2]?.path, wanted[0]?.path],
    });
    expect(contents(files)).toEqual({ '/out/a': 'new a', '/out/c': 'new c' });
  });

  it('writes all when the disk holds, and nothing the second time', () => {
    const files = new FailingFiles(before, Infinity);
    expect(writeOut(files, wanted)).toEqual({ kind: 'done', changed: wanted.map(({ path }) => path) });
    expect(files.calls).toBe(4);
    expect(writeOut(files, wanted)).toEqual({ kind: 'done', changed: [] });
    expect(files.calls).toBe(4);
  });
});
