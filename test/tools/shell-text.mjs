// Loads `*.sh` as text for Vite, which runs the tests; esbuild has a loader of its own for that.
import { readFileSync } from 'node:fs';

export function shellTextVitePlugin() {
  return {
    name: 'shell-text',
    enforce: 'pre',
    load: (id) => (id.endsWith('.sh') ? `export default ${JSON.stringify(readFileSync(id, 'utf8'))};` : undefined),
  };
}
