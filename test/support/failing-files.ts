import { MemoryFiles } from '../../src/files/memory.ts';
import type { WriteResult } from '../../src/files/contract.ts';
import type { HostPath } from '../../src/model/paths.ts';

/** A disk in memory whose writes fail: the nth alone, or every one from the nth on. Counts from 1. */
export class FailingFiles extends MemoryFiles {
  private readonly first: number;
  private readonly stays: boolean;
  calls = 0;

  constructor(start: Readonly<Record<string, string | Uint8Array>>, first: number, stays = false) {
    super(start);
    this.first = first;
    this.stays = stays;
  }

  override write(path: HostPath, bytes: Uint8Array): WriteResult {
    this.calls += 1;
    const fails = this.stays ? this.calls >= this.first : this.calls === this.first;
    return fails ? { kind: 'failed', why: 'no space is left' } : super.write(path, bytes);
  }
}
