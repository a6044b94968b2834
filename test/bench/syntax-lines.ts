// Line-based syntaxes against reading a file and splitting it on lines, in one run; and hostile inputs by doubling.
// Times are CPU time of the whole process (user and system, garbage collection and compiler threads included), since other
// work on the machine sways the clock; both are warmed up first.
// Usage: node test/tools/run.mjs test/bench/syntax-lines.ts [ROUNDS]
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Change, Style, Syntax } from '../../src/syntax/contract.ts';
import { ini } from '../../src/syntax/ini/ini.ts';
import { lines } from '../../src/syntax/lines/lines.ts';
import { pairs } from '../../src/syntax/pairs/pairs.ts';
import { properties } from '../../src/syntax/properties/properties.ts';
import { decodeBytes } from '../../src/text/encoding.ts';
import { applyEdits } from '../../src/text/text-edit.ts';

const rounds = Number(process.argv[2] ?? 101);
const warmUps = 60;
/** Runs in one measured sample: one alone is too short for the clock of CPU time. */
const runs = 3;
const folder = mkdtempSync(join(tmpdir(), 'thumbwright-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

const count = 5000;
const keys = Array.from({ length: count }, (_, k) => `group_${k % 50}_setting_${k}`);
const pairsText = keys.map((key, k) => `${key} = value ${k}\n`).join('');
const iniText = keys.map((key, k) => `${k % 100 === 0 ? `[section ${k / 100}]\n` : ''}${key} = value ${k}\n`).join('');
const sectionOf = (k: number): string => `[section ${Math.floor(k / 100)}]`;
const files: readonly {
  syntax: Syntax;
  what?: string;
  text: string;
  path: (key: string, k: number) => string;
  value: string;
}[] = [
  { syntax: pairs, text: pairsText, path: (key) => key, value: 'changed' },
  { syntax: ini, text: iniText, path: (key, k) => `${sectionOf(k)} ${key}`, value: 'changed' },
  {
    syntax: properties,
    text: keys.map((key, k) => `${key}=value ${k}\n`).join(''),
    path: (key) => key,
    value: 'changed',
  },
  { syntax: lines, text: keys.map((key) => `${key}\n`).join(''), path: (key) => `new ${key}`, value: 'present' },
  { syntax: pairs, what: 'new keys', text: pairsText, path: (key) => `${key}_new`, value: 'changed' },
  { syntax: ini, what: 'new keys', text: iniText, path: (key, k) => `${sectionOf(k)} ${key}_new`, value: 'changed' },
];

function milliseconds(run: () => void): number {
  const start = process.cpuUsage();
  run();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

function median(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[times.length >> 1] ?? Number.NaN;
}

let kept = 0;
console.log(`${count} keys, 100 set; CPU time, medians of ${rounds} interleaved rounds`);
for (const { syntax, what = '', text, path, value } of files) {
  const file = join(folder, syntax.name);
  writeFileSync(file, text);
  const changes = keys.flatMap((key, k): Change[] =>
    k % (count / 100) === 0 ? [{ op: 'set', path: path(key, k), value: { kind: 'scalar', text: value } }] : [],
  );
  const ours: number[] = [];
  const split: number[] = [];
  const splitIt = (): void => {
    kept += readFileSync(file, 'utf8').split('\n').length;
  };
  const setThem = (): void => {
    const { tree } = syntax.parse({ name: 'file', text: decodeBytes(readFileSync(file)) }, {});
    if (tree === undefined) throw new Error('The file cannot be read.');
    const { edits, results } = syntax.change(tree, changes);
    if (results.some(({ kind }) => kind !== 'changed')) throw new Error('A key was not set.');
    kept += applyEdits(tree.source.text, edits).length;
  };
  const sample = (run: () => void): number =>
    milliseconds(() => {
      for (let k = 0; k < runs; k++) run();
    }) / runs;
  for (let k = 0; k < warmUps; k++) {
    splitIt();
    setThem();
  }
  for (let round = 0; round < rounds; round++) {
    split.push(sample(splitIt));
    ours.push(sample(setThem));
  }
  const name = `${syntax.name} ${what}`.padEnd(15);
  const ratio = (median(ours) / median(split)).toFixed(1);
  console.log(
    `${name} read and split ${median(split).toFixed(3)} ms, indexed and set ${median(ours).toFixed(3)} ms: ${ratio} x`,
  );
}

interface Hostile {
  readonly name: string;
  readonly syntax: Syntax;
  readonly style: Style;
  readonly text: (size: number) => string;
  readonly changes: (size: number) => readonly Change[];
}
const set = (path: string, text: string): Change => ({ op: 'set', path, value: { kind: 'scalar', text } });
const many = (size: number, path: (k: number) => string): readonly Change[] =>
  Array.from({ length: size }, (_, k) => set(path(k), `v${k}`));
const hostile: readonly Hostile[] = [
  {
    name: 'duplicate keys, all removed',
    syntax: pairs,
    style: {},
    text: (n) => 'a = 1\n'.repeat(n),
    changes: () => [{ op: 'remove', path: 'a' }],
  },
  {
    name: 'one section repeated',
    syntax: ini,
    style: {},
    text: (n) => '[s]\nk=1\n'.repeat(n),
    changes: () => [set('[s] new', '1')],
  },
  {
    name: 'one section repeated, emptied',
    syntax: ini,
    style: {},
    text: (n) => '[s]\nk=1\n'.repeat(n),
    changes: () => [{ op: 'remove', path: '[s] k' }],
  },
  {
    name: 'comments above the last section',
    syntax: ini,
    style: {},
    text: (n) => `[a]\nb=1\n${'# c\n'.repeat(n)}[s]\n`,
    changes: (n) => many(n, (k) => `[t${k}] key`),
  },
  { name: 'new keys', syntax: pairs, style: {}, text: () => 'a = 1\n', changes: (n) => many(n, (k) => `a_${k}_b`) },
  {
    name: 'new sections',
    syntax: ini,
    style: {},
    text: () => '[a]\nb=1\n',
    changes: (n) => many(n, (k) => `[s${k}] key`),
  },
  {
    name: 'one long line',
    syntax: pairs,
    style: {},
    text: (n) => `a = ${'x '.repeat(n * 5)}`,
    changes: () => [set('a', '1')],
  },
  {
    name: 'one long key',
    syntax: pairs,
    style: {},
    text: (n) => `${'x_'.repeat(n * 5)} = 1`,
    changes: () => [set('x_new', '1')],
  },
  {
    name: 'unclosed quotes',
    syntax: pairs,
    style: { quote: 'double' },
    text: (n) => 'a = "x\n'.repeat(n),
    changes: () => [],
  },
  { name: 'unclosed brackets', syntax: ini, style: {}, text: (n) => '[s\n'.repeat(n), changes: () => [] },
  { name: 'brackets', syntax: ini, style: {}, text: (n) => `[${'] '.repeat(n * 5)}x`, changes: () => [] },
  {
    name: 'continued lines',
    syntax: ini,
    style: { continuation: '\\' },
    text: (n) => `[s]\na=${'x\\\n'.repeat(n)}`,
    changes: () => [set('[s] a', '1')],
  },
  {
    name: 'backslashes',
    syntax: properties,
    style: {},
    text: (n) => `a=${'\\\n'.repeat(n)}`,
    changes: () => [set('a', '1')],
  },
  {
    name: 'comments that show keys',
    syntax: pairs,
    style: {},
    text: (n) => '# a = 1\n'.repeat(n),
    changes: () => [set('a', '1')],
  },
  {
    name: 'lines repeated',
    syntax: lines,
    style: {},
    text: (n) => 'a\n'.repeat(n),
    changes: () => [{ op: 'remove', path: 'a' }],
  },
  {
    name: 'new lines, sorted',
    syntax: lines,
    style: { siblings: 'sorted' },
    text: (n) => 'm\n'.repeat(n),
    changes: (n) =>
      many(n, (k) => `x${k}`).map((one) => ({ ...one, op: 'set', value: { kind: 'scalar', text: 'present' } })),
  },
];
console.log('hostile inputs: milliseconds of CPU time at 25, 50, 100 thousand');
for (const { name, syntax, style, text, changes } of hostile) {
  const times = [25_000, 50_000, 100_000].map((size) => {
    const source = { name: 'file', text: text(size) };
    const asked = changes(size);
    return median(
      Array.from({ length: 3 }, () =>
        milliseconds(() => {
          const { tree } = syntax.parse(source, style);
          if (tree !== undefined) kept += applyEdits(source.text, syntax.change(tree, asked).edits).length;
        }),
      ),
    );
  });
  console.log(`${`${syntax.name}: ${name}`.padEnd(42)} ${times.map((time) => time.toFixed(0).padStart(6)).join(' ')}`);
}
if (kept === 0) console.log('nothing done');
