// Gives the module `virtual:validators`: four functions, made from schema/*.json while bundling, so that no schema is
// compiled when a person waits.
import Ajv2020 from 'ajv/dist/2020.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { readFileSync } from 'node:fs';

const kinds = ['profile', 'house', 'dialect', 'catalog'];
const files = kinds.map((kind) => `schema/${kind}.schema.json`);

/** What only editors want, left out of the code. */
const notes = new Set(['$schema', 'title', 'description', 'examples', 'x-thumbwright']);

/** A schema for thumbwright itself: without notes; texts are texts, because the loader gives the source text. */
function narrow(schema) {
  const map = (members) => Object.fromEntries(Object.entries(members).map(([name, member]) => [name, narrow(member)]));
  const kept = {};
  for (const [name, value] of Object.entries(schema)) {
    if (notes.has(name)) continue;
    if (name === 'properties' || name === '$defs') kept[name] = map(value);
    else if (name === 'items' || name === 'additionalProperties')
      kept[name] = typeof value === 'object' ? narrow(value) : value;
    else kept[name] = value;
  }
  if (schema['x-thumbwright'] === 'text') {
    const types = schema.type.filter((type) => type !== 'number' && type !== 'boolean');
    kept.type = types.length === 1 ? types[0] : types;
  }
  return kept;
}

/** Refers to the parts that a house has in common with a profile, instead of compiling them twice. */
function share(house, profile) {
  const common = Object.keys(house.$defs).filter(
    (name) => JSON.stringify(house.$defs[name]) === JSON.stringify(profile.$defs[name]),
  );
  const text = JSON.stringify(house, (key, value) => {
    const name = key === '$ref' && /^#\/\$defs\/(.*)$/.exec(value)?.[1];
    return name && common.includes(name) ? `${profile.$id}${value}` : value;
  });
  const shared = JSON.parse(text);
  for (const name of common) delete shared.$defs[name];
  return shared;
}

/** The code of one module, in ES syntax, that exports a validator for each kind of file. */
export function validatorsCode() {
  const [profile, house, dialect, catalog] = files.map((file) => narrow(JSON.parse(readFileSync(file, 'utf8'))));
  const ajv = new Ajv2020.default({
    allErrors: true,
    strict: true,
    allowUnionTypes: true,
    inlineRefs: false,
    ownProperties: true,
    messages: false,
    schemas: [profile, share(house, profile), dialect, catalog],
    code: { source: true, esm: true, lines: false, optimize: 2 },
  });
  const code = standaloneCode.default(
    ajv,
    Object.fromEntries([profile, house, dialect, catalog].map(({ $id }, index) => [kinds[index], $id])),
  );
  // ajv's own run-time parts come by `require` even in ES modules.
  return code.replaceAll(
    /const (\w+) = require\("([^"]+)"\)\.default;/g,
    'import __$1 from "$2.js"; const $1 = __$1.default ?? __$1;',
  );
}

/** For esbuild. */
export function validatorsPlugin() {
  return {
    name: 'validators',
    setup(build) {
      build.onResolve({ filter: /^virtual:validators$/ }, () => ({ path: 'validators', namespace: 'validators' }));
      build.onLoad({ filter: /.*/, namespace: 'validators' }, () => ({
        contents: validatorsCode(),
        loader: 'js',
        resolveDir: process.cwd(),
        watchFiles: files,
      }));
    },
  };
}

/** For Vite, which runs the tests. */
export function validatorsVitePlugin() {
  return {
    name: 'validators',
    resolveId: (id) => (id === 'virtual:validators' ? '\0virtual:validators' : undefined),
    load: (id) => (id === '\0virtual:validators' ? validatorsCode() : undefined),
  };
}
