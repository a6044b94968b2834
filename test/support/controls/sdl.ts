import { spawnSync } from 'node:child_process';
import { isMissing } from '../tool.ts';

const script = new URL('../../conformance/controls/sdl_judge.py', import.meta.url).pathname;

/** Asks libsdl2 (through Python's ctypes); the answer's shape is told in the script. Undefined when it is not installed. */
export function askSdl<T>(request: Readonly<Record<string, unknown>>): T | undefined {
  const run = spawnSync('python3', [script], { input: JSON.stringify(request), encoding: 'utf8', maxBuffer: 64 << 20 });
  return run.status === 0 ? (JSON.parse(run.stdout) as T) : undefined;
}

export const sdlVersion = askSdl<{ readonly version: string }>({ ask: 'version' })?.version;

/** For `describe.skipIf`: an error in continuous integration, so that the judge is not lost unseen. */
export const sdlMissing = isMissing(sdlVersion !== undefined, 'libSDL2 for python3', 'libsdl2-2.0-0');

export type Move =
  | { readonly button: number }
  | { readonly axis: number; readonly value: number }
  | { readonly hat: number; readonly value: number };

export interface Moved {
  readonly refused?: boolean;
  /** By move: the outputs that answered, with their values. */
  readonly outputs?: readonly Readonly<Record<string, number>>[];
}
