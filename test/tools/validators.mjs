// Gives the module `virtual:validators`: four functions, made from schema/*.json while bundling, so that no schema is
// compiled when a person waits.
import Ajv from 'ajv';
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

/**
 * Members of one shape as one pattern over their names, which ajv checks in one short loop instead of a stretch of code
 * for each: the code becomes a fifth of its size, and says the same.
 */
function grouped(schema) {
  if (Array.isArray(schema) || typeof schema !== 'object' || schema === null) return schema;
  const kept = Object.fromEntries(
    Object.entries(schema).map(([name, value]) => [name, Array.isArray(value) ? value : grouped(value)]),
  );
  if (schema.additionalProperties !== false || schema.properties === undefined) return kept;
  const alike = new Map();
  for (const [name, member] of Object.entries(kept.properties)) {
    if (schema.required?.includes(name)) continue;
    const text = JSON.stringify(member);
    alike.set(text, [...(alike.get(text) ?? []), name]);
  }
  const patterns = [...alike].filter(([, names]) => names.length > 1);
  if (patterns.length === 0) return kept;
  kept.patternProperties = {};
  for (const [text, names] of patterns) {
    kept.patternProperties[`^(?:${names.map((name) => name.replaceAll('.', '\\.')).join('|')})$`] = JSON.parse(text);
    for (const name of names) delete kept.properties[name];
  }
  if (Object.keys(kept.properties).length === 0) delete kept.properties;
  return kept;
}

/**
 * Each part (`$defs`) as a schema of its own, by the kinds that have it alike: ajv compiles a schema once by its id, but
 * a part once for each file that refers to it.
 */
function split(schemas) {
  const alike = new Map();
  schemas.forEach(({ $defs }, index) => {
    for (const [name, part] of Object.entries($defs)) {
      const text = JSON.stringify(part);
      alike.set(`${name} ${text}`, [...(alike.get(`${name} ${text}`) ?? []), index]);
    }
  });
  const idOf = (index, name) => `part:${alike.get(`${name} ${JSON.stringify(schemas[index].$defs[name])}`)[0]}:${name}`;
  const refer = (schema, index) =>
    JSON.parse(
      JSON.stringify(schema, (key, value) => (key === '$ref' ? idOf(index, value.slice('#/$defs/'.length)) : value)),
    );
  const parts = new Map();
  schemas.forEach(({ $defs }, index) => {
    for (const [name, part] of Object.entries($defs))
      parts.set(idOf(index, name), { $id: idOf(index, name), ...refer(part, index) });
  });
  return [...parts.values(), ...schemas.map((schema, index) => refer({ ...schema, $defs: undefined }, index))];
}

/** The code of one module, in ES syntax, that exports a validator for each kind of file. */
export function validatorsCode() {
  const schemas = files.map((file) => grouped(narrow(JSON.parse(readFileSync(file, 'utf8')))));
  // Not ajv's class for 2020-12, whose code keeps account of what was evaluated, which nothing here asks; a test holds
  // this code against that class on the schemas as they are published.
  const ajv = new Ajv.default({
    allErrors: true,
    strict: true,
    allowUnionTypes: true,
    inlineRefs: false,
    messages: false,
    schemas: split(schemas),
    code: { source: true, esm: true, lines: false, optimize: 2 },
  });
  const code = standaloneCode.default(ajv, Object.fromEntries(schemas.map(({ $id }, index) => [kinds[index], $id])));
  return (
    code
      // Of what ajv hands on between its functions, only the path is used here.
      .replaceAll(/,parentData:[^{}]+?,rootData\}/g, '}')
      // The path in the schema says nothing to people, and holds whole patterns.
      .replaceAll(/schemaPath:"(?:[^"\\]|\\.)*",/g, '')
      .replaceAll(
        /const (err\d+) = (\{.*?\});if\(vErrors === null\)\{vErrors = \[\1\];\}else \{vErrors\.push\(\1\);\}/g,
        '(vErrors ??= []).push($2);',
      )
      // ajv's own run-time parts come by `require` even in ES modules.
      .replaceAll(
        /const (\w+) = require\("([^"]+)"\)\.default;/g,
        'import __$1 from "$2.js"; const $1 = __$1.default ?? __$1;',
      )
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
