// Whole processes, interleaved, medians, as ratios in one run: `node -e 0` and `cp -r` of the output are the measures.
// Usage: env -u NODE_EXTRA_CA_CERTS node test/tools/run.mjs test/bench/build.ts [ROUNDS]
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const rounds = Number(process.argv[2] ?? 11);
const command = resolve('.dist/thumbwright.cjs');
const environment = { ...process.env, NO_COLOR: '1' };
// It makes node read more certificates at every start, about twice what an empty program takes.
delete environment['NODE_EXTRA_CA_CERTS'];

const folder = mkdtempSync(join(tmpdir(), 'thumbwright-bench-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));

function workspace(name: string, devices: number): string {
  const root = join(folder, name);
  mkdirSync(root);
  writeFileSync(join(root, 'package.json'), '{}');
  cpSync('profiles', join(root, 'profiles'), { recursive: true });
  if (devices === 1) {
    for (const file of ['tarn.yaml', 'mere.yaml']) rmSync(join(root, 'profiles', file));
    return root;
  }
  const template = readFileSync(join(root, 'profiles', 'fen.yaml'), 'utf8');
  for (const file of ['fen.yaml', 'tarn.yaml', 'mere.yaml']) rmSync(join(root, 'profiles', file));
  for (let k = 0; k < devices; k++) {
    const id = `fen-${String(k).padStart(4, '0')}`;
    writeFileSync(join(root, 'profiles', `${id}.yaml`), template.replace(/^profile: fen\b/m, `profile: ${id}`));
  }
  return root;
}

interface Case {
  readonly name: string;
  before?: () => void;
  run: () => { readonly command: string; readonly args: readonly string[]; readonly cwd: string };
}

function milliseconds(one: Case): number {
  one.before?.();
  const { command: program, args, cwd } = one.run();
  const start = process.hrtime.bigint();
  const done = spawnSync(program, args, { cwd, env: environment, stdio: 'ignore' });
  const end = process.hrtime.bigint();
  if (done.status !== 0 && !one.name.includes('errors')) throw new Error(`${one.name}: exit status ${String(done.status)}`);
  return Number(end - start) / 1e6;
}

const single = workspace('one', 1);
const many = workspace('hundred', 100);
const faulty = workspace('faulty', 1);
writeFileSync(join(faulty, 'profiles', 'fen.yaml'), readFileSync(join(faulty, 'profiles', 'fen.yaml'), 'utf8').replace('performance: 2', 'performnce: 2'));
execFileSync(process.execPath, [command, 'build'], { cwd: single, env: environment, stdio: 'ignore' });
execFileSync(process.execPath, [command, 'build'], { cwd: many, env: environment, stdio: 'ignore' });

function dropCodeCache(): void {
  for (const name of readdirSync('.dist')) if (name.endsWith('.cache')) rmSync(join('.dist', name));
}

const build = (cwd: string): Case['run'] => () => ({ command: process.execPath, args: [command, 'build'], cwd });
const clean = (cwd: string) => (): void => rmSync(join(cwd, 'out'), { recursive: true, force: true });
let copies = 0;
const copy = (cwd: string): Case['run'] => () => ({ command: 'cp', args: ['-r', join(cwd, 'out'), join(folder, `copy-${copies++}`)], cwd });

const cases: readonly Case[] = [
  { name: 'node -e 0', run: () => ({ command: process.execPath, args: ['-e', '0'], cwd: folder }) },
  { name: 'one device, nothing built yet', before: clean(single), run: build(single) },
  { name: 'one device, nothing changed', run: build(single) },
  { name: 'one device, no code cache', before: () => { clean(single)(); dropCodeCache(); }, run: build(single) },
  { name: 'one device with errors', run: build(faulty) },
  { name: 'cp -r of one output', run: copy(single) },
  { name: '100 devices, nothing built yet', before: clean(many), run: build(many) },
  { name: '100 devices, nothing changed', run: build(many) },
  { name: 'cp -r of 100 outputs', run: copy(many) },
];

const times = new Map<string, number[]>(cases.map(({ name }) => [name, []]));
for (let round = -1; round < rounds; round++) {
  for (const one of cases) {
    const taken = milliseconds(one);
    if (round >= 0) times.get(one.name)?.push(taken);
  }
}
const median = (name: string): number => {
  const sorted = [...(times.get(name) ?? [])].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
};
const unit = median('node -e 0');
console.log(`medians of ${rounds} interleaved runs`);
for (const { name } of cases) {
  const ms = median(name);
  const against = name.startsWith('100') ? ` ${(ms / median('cp -r of 100 outputs')).toFixed(2)} x cp -r` : name.startsWith('one') ? ` ${(ms / median('cp -r of one output')).toFixed(2)} x cp -r` : '';
  console.log(`${name.padEnd(34)} ${(ms / unit).toFixed(2).padStart(7)} x node -e 0${against}`);
}
