// How fast `thumbwright build` is, as ratios in one run: to `node -e 0`, and to `cp -r` of the same output. Whole
// processes of .dist/ (`npm run build` makes it), interleaved, medians; times themselves say nothing on a shared machine.
// The workspaces are the demo with one device, with a hundred copies of it, and with one misspelt setting. "No code
// cache" drops what V8 kept in .dist/ before each run.
// Usage: node test/tools/run.mjs test/bench/build.ts [ROUNDS [DEVICES]]
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const rounds = Number(process.argv[2] ?? 11);
const devices = Number(process.argv[3] ?? 100);
const command = resolve('.dist/thumbwright.cjs');
// NODE_EXTRA_CA_CERTS makes node read more certificates at every start, about twice what an empty program takes.
const environment: NodeJS.ProcessEnv = { ...process.env, NO_COLOR: '1', NODE_EXTRA_CA_CERTS: undefined };

const folder = mkdtempSync(join(tmpdir(), 'thumbwright-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

function workspace(name: string, count: number): string {
  const root = join(folder, name);
  mkdirSync(root);
  writeFileSync(join(root, 'package.json'), '{}');
  cpSync('profiles', join(root, 'profiles'), { recursive: true });
  if (count === 1) {
    for (const file of ['tarn.yaml', 'mere.yaml']) rmSync(join(root, 'profiles', file));
    return root;
  }
  const template = readFileSync(join(root, 'profiles', 'fen.yaml'), 'utf8');
  for (const file of ['fen.yaml', 'tarn.yaml', 'mere.yaml']) rmSync(join(root, 'profiles', file));
  for (let k = 0; k < count; k++) {
    const id = `fen-${String(k).padStart(4, '0')}`;
    writeFileSync(join(root, 'profiles', `${id}.yaml`), template.replace(/^profile: fen\b/m, `profile: ${id}`));
  }
  return root;
}

interface Case {
  readonly name: string;
  /** The case that copies the same output. */
  readonly copied?: string;
  before?: () => void;
  run: () => { readonly command: string; readonly args: readonly string[]; readonly cwd: string };
}

function milliseconds(one: Case): number {
  one.before?.();
  const { command: program, args, cwd } = one.run();
  const start = process.hrtime.bigint();
  const done = spawnSync(program, args, { cwd, env: environment, stdio: 'ignore' });
  const end = process.hrtime.bigint();
  if (done.status !== 0 && !one.name.includes('errors'))
    throw new Error(`${one.name}: exit status ${String(done.status)}`);
  return Number(end - start) / 1e6;
}

const single = workspace('one', 1);
const many = workspace('many', devices);
const faulty = workspace('faulty', 1);
writeFileSync(
  join(faulty, 'profiles', 'fen.yaml'),
  readFileSync(join(faulty, 'profiles', 'fen.yaml'), 'utf8').replace('performance: 2', 'performnce: 2'),
);
execFileSync(process.execPath, [command, 'build'], { cwd: single, env: environment, stdio: 'ignore' });
execFileSync(process.execPath, [command, 'build'], { cwd: many, env: environment, stdio: 'ignore' });

function dropCodeCache(): void {
  for (const name of readdirSync('.dist')) if (name.endsWith('.cache')) rmSync(join('.dist', name));
}

const build =
  (cwd: string): Case['run'] =>
  () => ({ command: process.execPath, args: [command, 'build'], cwd });
const clean = (cwd: string) => (): void => rmSync(join(cwd, 'out'), { recursive: true, force: true });
let copies = 0;
const copy =
  (cwd: string): Case['run'] =>
  () => ({ command: 'cp', args: ['-r', join(cwd, 'out'), join(folder, `copy-${copies++}`)], cwd });

const one = 'cp -r of one output';
const all = `cp -r of ${devices} outputs`;
const cases: readonly Case[] = [
  { name: 'node -e 0', run: () => ({ command: process.execPath, args: ['-e', '0'], cwd: folder }) },
  { name: 'one device, nothing built yet', copied: one, before: clean(single), run: build(single) },
  { name: 'one device, nothing changed', copied: one, run: build(single) },
  {
    name: 'one device, no code cache',
    copied: one,
    before: () => {
      clean(single)();
      dropCodeCache();
    },
    run: build(single),
  },
  { name: 'one device with errors', copied: one, run: build(faulty) },
  { name: one, run: copy(single) },
  { name: `${devices} devices, nothing built yet`, copied: all, before: clean(many), run: build(many) },
  { name: `${devices} devices, nothing changed`, copied: all, run: build(many) },
  { name: all, run: copy(many) },
];

const times = new Map<string, number[]>(cases.map(({ name }) => [name, []]));
for (let round = -1; round < rounds; round++) {
  for (const measured of cases) {
    const taken = milliseconds(measured);
    if (round >= 0) times.get(measured.name)?.push(taken);
  }
}
const median = (name: string): number => {
  const sorted = [...(times.get(name) ?? [])].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
};
const unit = median('node -e 0');
const row = (name: string, node: string, copied: string): string =>
  `${name.padEnd(34)} ${node.padStart(11)} ${copied.padStart(9)}`;
console.log(`medians of ${rounds} interleaved runs, as ratios`);
console.log(row('', 'node -e 0', 'cp -r'));
for (const { name, copied } of cases)
  console.log(
    row(name, (median(name) / unit).toFixed(2), copied === undefined ? '' : (median(name) / median(copied)).toFixed(2)),
  );
