import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { parse } from 'yaml';
import type { ReadResult } from '../../src/files/contract.ts';
import { MemoryFiles } from '../../src/files/memory.ts';
import type { HostPath } from '../../src/model/paths.ts';

/** Every file below a folder, by its path from there. */
export function readFolder(folder: string, at = folder): Record<string, Uint8Array> {
  const found: Record<string, Uint8Array> = {};
  for (const name of readdirSync(at).sort()) {
    const path = join(at, name);
    if (statSync(path).isDirectory()) Object.assign(found, readFolder(folder, path));
    else found[relative(folder, path)] = readFileSync(path);
  }
  return found;
}

/** One step of a case: replace a text in a file, write a whole file, or repeat a text (for what is too large to read). */
export interface Step {
  readonly file: string;
  readonly find?: string;
  readonly put?: string;
  readonly text?: string;
  readonly bytes?: readonly number[];
  readonly repeat?: {
    readonly text: string;
    readonly times: number;
    readonly before?: string;
    readonly after?: string;
  };
  readonly remove?: true;
  /** A file that says it has so many bytes, for what is too large to be made. */
  readonly claims?: number;
  /** The disk refuses to read it, with these words. */
  readonly unreadable?: string;
}

class RefusingFiles extends MemoryFiles {
  private readonly refused: ReadonlyMap<string, string>;
  private readonly claimed: ReadonlyMap<string, number>;

  constructor(
    start: Readonly<Record<string, Uint8Array>>,
    refused: ReadonlyMap<string, string>,
    claimed: ReadonlyMap<string, number>,
  ) {
    super(start);
    this.refused = refused;
    this.claimed = claimed;
  }

  override size(path: HostPath): number | undefined {
    return this.claimed.get(path) ?? super.size(path);
  }

  override read(path: HostPath, limit?: number): ReadResult {
    const why = this.refused.get(path);
    return why === undefined ? super.read(path, limit) : { kind: 'failed', why };
  }
}

/** The world in memory, at `/w`, with the steps made. */
export function makeWorld(base: Readonly<Record<string, Uint8Array>>, steps: readonly Step[]): MemoryFiles {
  const files = new Map<string, Uint8Array>(Object.entries(base));
  const refused = new Map<string, string>();
  const claimed = new Map<string, number>();
  for (const step of steps) {
    if (step.unreadable !== undefined) refused.set(`/w/${step.file}`, step.unreadable);
    else if (step.claims !== undefined) {
      files.set(step.file, Buffer.from(''));
      claimed.set(`/w/${step.file}`, step.claims);
    } else if (step.remove === true) files.delete(step.file);
    else if (step.bytes !== undefined) files.set(step.file, Uint8Array.from(step.bytes));
    else if (step.repeat !== undefined) {
      const { text, times, before, after } = step.repeat;
      files.set(step.file, Buffer.from((before ?? '') + text.repeat(times) + (after ?? '')));
    } else if (step.text !== undefined) files.set(step.file, Buffer.from(step.text));
    else {
      const now = Buffer.from(files.get(step.file) ?? []).toString();
      if (step.find === undefined || !now.includes(step.find))
        throw new Error(`The case wants to replace ${String(step.find)} in ${step.file}, which does not hold it.`);
      files.set(step.file, Buffer.from(now.replace(step.find, () => step.put ?? '')));
    }
  }
  return new RefusingFiles(
    Object.fromEntries([...files].map(([path, bytes]) => [`/w/${path}`, bytes])),
    refused,
    claimed,
  );
}

export function readSteps(path: string): readonly Step[] {
  const steps: unknown = parse(readFileSync(path, 'utf8'));
  if (!Array.isArray(steps)) throw new Error(`${path} is no list of steps.`);
  return steps as readonly Step[];
}
