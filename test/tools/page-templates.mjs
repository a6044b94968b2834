// Compiles the page templates of src/report/html when the command is bundled, so that no code is made while it runs.
import Handlebars from 'handlebars';
import { readFileSync } from 'node:fs';

function source(path) {
  const options = { strict: true, knownHelpersOnly: true, preventIndent: true };
  const compiled = Handlebars.precompile(readFileSync(path, 'utf8'), options);
  return `import runtime from 'handlebars/runtime.js';\nexport default runtime.template(${compiled});`;
}

/** For esbuild. */
export function pageTemplatesPlugin() {
  return {
    name: 'page-templates',
    setup(build) {
      build.onLoad({ filter: /[\\/]report[\\/]html[\\/][^\\/]+\.hbs$/ }, ({ path }) => ({
        contents: source(path),
        loader: 'js',
      }));
    },
  };
}

/** For Vite, which runs the tests. */
export function pageTemplatesVitePlugin() {
  return {
    name: 'page-templates',
    load: (id) => (/\/report\/html\/[^/]+\.hbs$/.test(id) ? source(id) : undefined),
  };
}
