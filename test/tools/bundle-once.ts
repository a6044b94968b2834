import { execFileSync } from 'node:child_process';

/** Brings .dist/ up to date with the source. */
export function setup(): void {
  execFileSync(process.execPath, ['test/tools/bundle.mjs'], { stdio: 'inherit' });
}
