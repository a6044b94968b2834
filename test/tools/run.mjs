// Runs one TypeScript script of this repository: Node 20 cannot, and a bundler is here already.
// Usage: node test/tools/run.mjs SCRIPT.ts [ARGUMENT ...]
import { build } from 'esbuild';
import { guidesPlugin } from './guides.mjs';
import { pageTemplatesPlugin } from './page-templates.mjs';
import { pagesPlugin } from './pages.mjs';
import { validatorsPlugin } from './validators.mjs';
import { mkdtempSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

const [script, ...rest] = process.argv.slice(2);
if (script === undefined) {
  console.error('usage: node test/tools/run.mjs SCRIPT.ts [ARGUMENT ...]');
  process.exit(2);
}
// Beside node_modules, so that packages left out of the bundle are found.
const folder = mkdtempSync(join(resolve('node_modules'), '.run-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
const outfile = join(folder, 'script.mjs');
await build({
  entryPoints: [script],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  packages: 'external',
  loader: { '.md': 'text', '.hbs': 'text', '.sh': 'text' },
  plugins: [guidesPlugin(), pagesPlugin(), pageTemplatesPlugin(), validatorsPlugin()],
  logLevel: 'warning',
});
process.argv = [process.argv[0], script, ...rest];
await import(pathToFileURL(outfile).href);
