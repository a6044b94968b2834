import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';

export interface OutFile {
  readonly path: HostPath;
  readonly bytes: Uint8Array;
  readonly mode: number | undefined;
}

export type WroteOut =
  | { readonly kind: 'done'; readonly changed: readonly HostPath[] }
  /** `left`: files that could not be put back either, so that they are of the new build. */
  | { readonly kind: 'failed'; readonly path: HostPath; readonly why: string; readonly left: readonly HostPath[] };

function same(a: Uint8Array, b: Uint8Array): boolean {
  return Buffer.compare(a, b) === 0;
}

/**
 * Writes what differs, and nothing else, modification times included. When one file cannot be written, those written
 * before it are put back, so that the folder is never half one build and half another.
 */
export function writeOut(files: Files, wanted: readonly OutFile[]): WroteOut {
  const changed: HostPath[] = [];
  const before: { path: HostPath; bytes: Uint8Array | undefined; mode: number | undefined }[] = [];
  for (const { path, bytes, mode } of wanted) {
    const now = files.read(path);
    if (now.kind === 'bytes' && same(now.bytes, bytes)) continue;
    const result =
      now.kind === 'not-a-file'
        ? { kind: 'failed' as const, why: `a ${now.is} stands there` }
        : files.write(path, bytes, mode);
    if (result.kind === 'failed') {
      const left: HostPath[] = [];
      for (const { path: old, bytes: text, mode: was } of before.reverse()) {
        const undone = text === undefined ? files.remove(old) : files.write(old, text, was);
        if (undone.kind === 'failed') left.push(old);
      }
      return { kind: 'failed', path, why: result.why, left };
    }
    before.push({ path, bytes: now.kind === 'bytes' ? now.bytes : undefined, mode });
    changed.push(path);
  }
  return { kind: 'done', changed };
}
