import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * Which folder of src/ may import which (types and values). A folder may always import itself. What data flows through
 * is on the left of what works on it, so that an arrow the other way is a phase that reaches into another.
 */
const phases = [
  '1-load',
  '2-resolve',
  '3-compile',
  '4-plan',
  '5-apply',
  'rules',
  'adopt',
  'compare',
  'learn',
  'library',
];
const below = ['model', 'vocabulary', 'controls', 'syntax', 'dialect', 'text', 'diagnostics', 'files'];

const mayImport: Readonly<Record<string, readonly string[]>> = {
  text: [],
  diagnostics: ['text'],
  vocabulary: ['text', 'diagnostics'],
  model: ['text', 'diagnostics', 'vocabulary'],
  controls: ['model', 'vocabulary', 'diagnostics', 'text'],
  files: ['diagnostics', 'model', 'text'],
  syntax: ['text', 'diagnostics'],
  dialect: ['model', 'vocabulary', 'controls', 'syntax', 'text', 'diagnostics'],
  'yaml-edit': ['text', 'syntax', 'diagnostics'],
  // The press test tells where each control sits, in the vocabulary's words.
  device: ['model', 'vocabulary', 'text', 'diagnostics', 'files'],
  drawing: ['model', 'controls', 'vocabulary'],
  ...Object.fromEntries(phases.map((phase) => [phase, below])),
  adopt: [...below, 'yaml-edit'],
  compare: [...below, 'yaml-edit'],
  learn: [...below, 'yaml-edit'],
  guide: ['model', 'vocabulary', 'controls', 'drawing', 'text', 'diagnostics'],
  report: ['model', 'vocabulary', 'controls', 'drawing', 'text', 'diagnostics'],
  pipeline: [...below, ...phases, 'yaml-edit', 'device'],
  index: ['pipeline', 'report', 'files', ...below],
  // Verbs also print what the vocabulary and the drawing say, and unpack what a device brings.
  verbs: ['pipeline', 'report', 'files', 'model', 'diagnostics', 'text', 'vocabulary', 'device', 'drawing'],
  cli: ['verbs', 'files', 'model', 'diagnostics'],
};

/** Only these phases touch the disk, through `files`. */
const touchesFiles = new Set([
  '1-load',
  '5-apply',
  'learn',
  'library',
  'device',
  'verbs',
  'pipeline',
  'index',
  'cli',
  'files',
]);

/** Files of more than 400 lines, each with its reason. */
const long: Readonly<Record<string, string>> = {
  'src/dialect/compile-dialect.ts': 'one walk over a dialect; every step adds to the faults that are gathered',
};

function sources(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return sources(path);
    return path.endsWith('.ts') && !path.endsWith('.d.ts') ? [path] : [];
  });
}

function folderOf(path: string): string {
  const [first = ''] = relative('src', path).split('/');
  return first.replace(/\.ts$/, '');
}

const files = sources('src').map((path) => {
  const text = readFileSync(path, 'utf8');
  const imports = [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((match) => match[1] ?? '');
  return { path, text, folder: folderOf(path), imports };
});

describe('architecture', () => {
  it('lets each folder import only what the table allows', () => {
    const wrong: string[] = [];
    for (const { path, folder, imports } of files) {
      const allowed = mayImport[folder];
      if (allowed === undefined) {
        wrong.push(`${path}: the folder ${folder} is not in the table`);
        continue;
      }
      for (const name of imports) {
        if (!name.startsWith('.')) continue;
        const target = join(dirname(path), name);
        if (target.startsWith('..') || !target.startsWith('src/')) {
          if (!/^schema\//.test(target)) wrong.push(`${path}: ${name} is outside src`);
          continue;
        }
        const other = folderOf(target);
        if (other !== folder && !allowed.includes(other)) wrong.push(`${path}: ${folder} may not import ${other}`);
        if (other === 'files' && !touchesFiles.has(folder)) wrong.push(`${path}: ${folder} may not touch the disk`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('keeps the formats apart: a syntax imports only its own folder and shared', () => {
    const wrong: string[] = [];
    for (const { path, folder, imports } of files) {
      const own = /^src\/syntax\/([^/]+)\//.exec(path)?.[1];
      if (folder !== 'syntax' || own === undefined) continue;
      for (const name of imports) {
        if (!name.startsWith('.')) continue;
        const other = /^src\/syntax\/([^/]+)\//.exec(join(dirname(path), name))?.[1];
        if (other !== undefined && other !== own && other !== 'shared') wrong.push(`${path}: imports ${other}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('touches the disk in one place, and the process in one', () => {
    const disk = files.filter(
      ({ path, imports }) =>
        imports.some((name) => /^(node:)?fs(\/promises)?$/.test(name)) &&
        !/^src\/files\/(watch-)?node(-disk)?\.ts$/.test(path),
    );
    expect(disk.map(({ path }) => path)).toEqual([]);
    const process = files.filter(
      ({ path, text }) => path !== 'src/cli.ts' && /\bprocess\.(argv|env|cwd|std|exit|on)/.test(text),
    );
    expect(process.map(({ path }) => path)).toEqual([]);
  });

  it('reads no clock and no random number outside the shell', () => {
    const wrong = files.filter(
      ({ folder, text }) =>
        !['cli', 'files', 'verbs'].includes(folder) && /\bDate\.now\(|new Date\(\)|Math\.random\(/.test(text),
    );
    expect(wrong.map(({ path }) => path)).toEqual([]);
  });

  it('opens no socket', () => {
    const wrong = files.filter(({ imports }) =>
      imports.some((name) => /^(node:)?(net|http|https|http2|dgram|tls|dns)$/.test(name)),
    );
    expect(wrong.map(({ path }) => path)).toEqual([]);
  });

  it('keeps files short, and gives a reason for each long one', () => {
    const over = files.filter(({ path, text }) => text.split('\n').length > 400 && long[path] === undefined);
    expect(over.map(({ path, text }) => `${path}: ${text.split('\n').length} lines`)).toEqual([]);
    const lengths = files.map(({ text }) => text.split('\n').length).sort((a, b) => a - b);
    expect(lengths[Math.floor(lengths.length / 2)]).toBeLessThan(90);
  });

  it('has no barrel inside, no default export, and no folder of odds and ends', () => {
    expect(
      files.filter(({ path }) => /\/index\.ts$/.test(path) && path !== 'src/index.ts').map(({ path }) => path),
    ).toEqual([]);
    expect(files.filter(({ text }) => /^export default\b/m.test(text)).map(({ path }) => path)).toEqual([]);
    expect(files.filter(({ path }) => /\b(utils?|helpers?|common|misc)\b/.test(path)).map(({ path }) => path)).toEqual(
      [],
    );
  });
});
