// Gives the modules `virtual:pages`: the pages of all finding codes as one object, so that adding a page is adding a file.
import { readdirSync, readFileSync } from 'node:fs';

const folder = 'src/diagnostics/pages';

function source() {
  const pages = {};
  for (const name of readdirSync(folder).sort()) {
    if (name.endsWith('.md')) pages[name.slice(0, -3)] = readFileSync(`${folder}/${name}`, 'utf8');
  }
  return `export const pages = ${JSON.stringify(pages)};`;
}

/** For esbuild. */
export function pagesPlugin() {
  return {
    name: 'pages',
    setup(build) {
      build.onResolve({ filter: /^virtual:pages$/ }, () => ({ path: 'pages', namespace: 'pages' }));
      build.onLoad({ filter: /.*/, namespace: 'pages' }, () => ({ contents: source(), loader: 'js' }));
    },
  };
}

/** For Vite, which runs the tests. */
export function pagesVitePlugin() {
  return {
    name: 'pages',
    resolveId: (id) => (id === 'virtual:pages' ? '\0virtual:pages' : undefined),
    load: (id) => (id === '\0virtual:pages' ? source() : undefined),
  };
}
