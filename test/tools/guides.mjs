// Gives the module `virtual:guides`: of each schema what the loader needs to read a file by (kinds, members, words).
import { readFileSync } from 'node:fs';

const kinds = ['profile', 'house', 'dialect', 'catalog'];
const kept = new Set(['type', 'enum', 'required', '$ref', 'x-thumbwright']);

function narrow(schema) {
  const guide = {};
  for (const [name, value] of Object.entries(schema)) {
    if (kept.has(name)) guide[name === 'x-thumbwright' ? 'says' : name] = value;
    else if (name === 'properties' || name === '$defs') {
      guide[name] = Object.fromEntries(Object.entries(value).map(([member, inner]) => [member, narrow(inner)]));
    } else if ((name === 'items' || name === 'additionalProperties') && typeof value === 'object')
      guide[name] = narrow(value);
  }
  return guide;
}

function source() {
  return kinds
    .map(
      (kind) =>
        `export const ${kind} = JSON.parse(${JSON.stringify(JSON.stringify(narrow(JSON.parse(readFileSync(`schema/${kind}.schema.json`, 'utf8')))))});`,
    )
    .join('\n');
}

/** For esbuild. */
export function guidesPlugin() {
  return {
    name: 'guides',
    setup(build) {
      build.onResolve({ filter: /^virtual:guides$/ }, () => ({ path: 'guides', namespace: 'guides' }));
      build.onLoad({ filter: /.*/, namespace: 'guides' }, () => ({ contents: source(), loader: 'js' }));
    },
  };
}

/** For Vite, which runs the tests. */
export function guidesVitePlugin() {
  return {
    name: 'guides',
    resolveId: (id) => (id === 'virtual:guides' ? '\0virtual:guides' : undefined),
    load: (id) => (id === '\0virtual:guides' ? source() : undefined),
  };
}
