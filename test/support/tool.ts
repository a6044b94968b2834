import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Whether a program is there. */
function hasTool(name: string): boolean {
  return spawnSync('sh', ['-c', `command -v ${name}`], { stdio: 'ignore' }).status === 0;
}

/**
 * For `it.skipIf(requireTool(...))`: true when the program is missing, with a line that names its Debian package. In continuous
 * integration a missing program is an error, so that no outside check is lost unseen.
 */
export function requireTool(name: string, debianPackage: string): boolean {
  return isMissing(hasTool(name), name, debianPackage);
}

/** The same for a file that a Debian package brings. */
export function requireFile(path: string, debianPackage: string): boolean {
  return isMissing(existsSync(path), path, debianPackage);
}

/** As told above, for what is looked for in another way. */
export function isMissing(there: boolean, name: string, debianPackage: string): boolean {
  if (there) return false;
  const message = `${name} is missing: install the Debian package ${debianPackage}`;
  if (process.env['CI'] !== undefined && process.env['CI'] !== '') throw new Error(message);
  console.warn(`skipped: ${message}`);
  return true;
}
