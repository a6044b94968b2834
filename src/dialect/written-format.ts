import type { SyntaxName } from '../syntax/contract.ts';
import type { FileWritten } from '../vocabulary/shapes/dialect.ts';

/** The format that a template writes: as the dialect says, else by the one ending of a path that tells it. */
export function writtenFormat({ writes, path }: FileWritten): SyntaxName | 'keyfile' | undefined {
  return writes ?? (path.endsWith('.nmconnection') ? 'keyfile' : undefined);
}
