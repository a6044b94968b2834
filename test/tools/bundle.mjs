// Makes .dist/: the command as one CommonJS bundle with a small launcher that keeps V8's compiled code beside it,
// and the library. Everything is bundled, so that an installed copy needs no other package.
import { build } from 'esbuild';
import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { guidesPlugin } from './guides.mjs';
import { pageTemplatesPlugin } from './page-templates.mjs';
import { pagesPlugin } from './pages.mjs';
import { validatorsPlugin } from './validators.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

/**
 * Leaves out a part of node that commander loads at every start (and with it node's whole network part), for verbs that
 * are programs of their own; ours are not.
 */
const noVerbsAsPrograms = {
  name: 'no-verbs-as-programs',
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /^node:child_process$/ }, ({ importer, path }) =>
      /[\\/]commander[\\/]/.test(importer) ? { path, namespace: 'left-out' } : undefined,
    );
    onLoad({ filter: /.*/, namespace: 'left-out' }, () => ({ contents: 'module.exports = {};' }));
  },
};

const common = {
  bundle: true,
  platform: 'node',
  target: 'node20',
  // A package's ES form where it has one: some of the others reach for their parts in ways no bundler follows.
  mainFields: ['module', 'main'],
  minifySyntax: true,
  minifyWhitespace: true,
  // Names are kept: they are what a report of a bug of ours shows.
  minifyIdentifiers: false,
  legalComments: 'none',
  // The launcher reads it as Latin-1, which takes no decoding.
  charset: 'ascii',
  loader: { '.md': 'text', '.hbs': 'text', '.sh': 'text' },
  define: { THUMBWRIGHT_VERSION: JSON.stringify(version) },
  plugins: [validatorsPlugin(), pagesPlugin(), pageTemplatesPlugin(), guidesPlugin(), noVerbsAsPrograms],
  metafile: true,
  // Nothing is replaced before all of it is made.
  write: false,
  logLevel: 'warning',
};

const command = await build({ ...common, entryPoints: ['src/cli.ts'], outfile: '.dist/bundle.cjs', format: 'cjs' });
const library = await build({ ...common, entryPoints: ['src/index.ts'], outfile: '.dist/index.cjs', format: 'cjs' });

rmSync('.dist', { recursive: true, force: true });
mkdirSync('.dist', { recursive: true });
for (const { path, contents } of [...command.outputFiles, ...library.outputFiles]) writeFileSync(path, contents);

const hash = createHash('sha256').update(readFileSync('.dist/bundle.cjs')).digest('hex').slice(0, 16);
writeFileSync(
  '.dist/thumbwright.cjs',
  `#!/usr/bin/env node
'use strict';
// Compiles the bundle with the code that V8 kept from an earlier run. A cache that does not fit is ignored and made anew.
const fs = require('node:fs');
const path = require('node:path');
const v8 = require('node:v8');
const vm = require('node:vm');
// A build of one device ends before code that V8 optimises pays off: functions must run longer before it does.
v8.setFlagsFromString('--interrupt-budget=1000000');
const file = path.join(__dirname, 'bundle.cjs');
const name = 'bundle-${hash}-' + process.versions.v8 + '-' + process.arch + '.cache';
const folders = [__dirname];
const home = process.env.XDG_CACHE_HOME || (process.env.HOME && path.join(process.env.HOME, '.cache'));
if (home) folders.push(path.join(home, 'thumbwright'));
let cachedData;
for (const folder of folders) {
  try {
    cachedData = fs.readFileSync(path.join(folder, name));
    break;
  } catch {}
}
const script = new vm.Script('(function (exports, require, module, __filename, __dirname) {' + fs.readFileSync(file, 'latin1') + '\\n})', {
  filename: file,
  cachedData,
  importModuleDynamically: vm.constants && vm.constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
});
const own = { exports: {} };
script.runInThisContext()(own.exports, require, own, file, __dirname);
if (cachedData === undefined || script.cachedDataRejected) {
  process.once('exit', () => {
    const data = script.createCachedData();
    for (const folder of folders) {
      try {
        fs.mkdirSync(folder, { recursive: true });
        const beside = path.join(folder, name + '.' + process.pid);
        fs.writeFileSync(beside, data);
        fs.renameSync(beside, path.join(folder, name));
        return;
      } catch {}
    }
  });
}
`,
);
chmodSync('.dist/thumbwright.cjs', 0o755);

// The licences of what is bundled travel with it.
const packages = new Set();
for (const meta of [command.metafile, library.metafile]) {
  for (const input of Object.keys(meta.inputs)) {
    const match = /^node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(input);
    if (match) packages.add(match[1]);
  }
}
const notices = [...packages].sort().map((name) => {
  const about = JSON.parse(readFileSync(`node_modules/${name}/package.json`, 'utf8'));
  let text = '';
  for (const file of ['LICENSE', 'LICENSE.md', 'LICENSE.txt', 'License', 'license', 'LICENCE']) {
    try {
      text = readFileSync(`node_modules/${name}/${file}`, 'utf8').trim();
      break;
    } catch {
      // It goes by another name in this package.
    }
  }
  return `${name} ${about.version} (${about.license})\n\n${text}\n`;
});
writeFileSync('.dist/NOTICES', `Bundled with thumbwright:\n\n${notices.join('\n----\n\n')}`);
