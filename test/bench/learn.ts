// Prints how long learning takes: 5,000 keys in 20 files, through eight copies with labelled changes, and of one copy by names.
// Usage: node test/tools/run.mjs test/bench/learn.ts
import { learn } from '../../src/learn/learn.ts';
import type { Copy, Label, Learnt } from '../../src/learn/contract.ts';
import { settingById, settings } from '../../src/vocabulary/registry.ts';

const files = 20;
const keysEach = 250;
const copies = 8;
const switches = settings.filter(({ type }) => type.kind === 'boolean');
const wanted = (setting: number, copy: number): boolean => (((setting + 1) >> Math.max(0, copy - 2)) & 1) === 1;

/** Words that settings of programs are called by, and some that nobody's setting has. */
const words = [
  ...new Set(settings.flatMap((setting) => setting.words.flatMap((phrase) => phrase.split(' ')))),
  ...'harbour meadow lantern plough saddle thimble kettle rafter gable hinge bobbin spindle anvil bellows trough'.split(
    ' ',
  ),
];
const called = (number: number): string => {
  const word = (nth: number): string => words[(number * (7 + 4 * nth) + nth * 31) % words.length] ?? '';
  return (
    [`${word(0)}_${word(1)}_${number}`, `${word(0)}-${word(1)}-${word(2)}-${number}`, `${word(2)}${number}`][
      number % 3
    ] ?? ''
  );
};

/** Every third key has a comment above it; of the switches, those that the labels tell follow them. */
const made: Copy[] = Array.from({ length: copies }, (_, copy) => ({
  name: String(copy + 1),
  leftAlone: [],
  texts: new Map(
    Array.from({ length: files }, (_unused, file) => {
      const lines = Array.from({ length: keysEach }, (_none, at) => {
        const number = file * keysEach + at;
        const comment =
          number % 3 === 0 ? `# ${called(number + 1).replace(/[-_]/g, ' ')} of the ${called(number + 2)}\n` : '';
        if (number % 50 === 3) return `${comment}count-${number} = ${copy * 7 + number}`;
        const setting = number % 100 === 0 ? number / 100 : undefined;
        return setting !== undefined && setting < switches.length
          ? `${comment}switch-${number} = ${copy >= 2 && wanted(setting, copy) ? 'on' : 'off'}`
          : `${comment}${called(number)} = ${number % 3 === 0 ? 'true' : number % 7 === 0 ? 'auto' : number}`;
      });
      const path = `part-${file}.conf`;
      return [path, { name: path, text: `${lines.join('\n')}\n` }];
    }),
  ),
}));
const labels: Label[] = switches.slice(0, 50).flatMap(({ id }, setting) =>
  made.flatMap((_, copy) => {
    const definition = settingById(id);
    const before = copy > 2 && wanted(setting, copy - 1);
    if (copy < 2 || definition === undefined || wanted(setting, copy) === before) return [];
    const value = { kind: 'boolean', is: wanted(setting, copy) } as const;
    return [{ copy, setting: definition, value, scope: {}, told: 'changed' } as const];
  }),
);

function measure(what: string, given: { readonly copies: readonly Copy[]; readonly labels: readonly Label[] }): void {
  const times: number[] = [];
  const busy: number[] = [];
  let told: Learnt | undefined;
  for (let run = 0; run < 5; run++) {
    const start = performance.now();
    const before = process.cpuUsage();
    told = learn([{ name: 'bench', device: { id: 'bench', name: 'Bench' }, parts: new Map(), ...given }]);
    times.push(performance.now() - start);
    const { user, system } = process.cpuUsage(before);
    busy.push((user + system) / 1000);
  }
  const count = (wantedGrade: string): number =>
    told?.proposals.filter(({ grade }) => grade === wantedGrade).length ?? 0;
  const ms = (all: readonly number[]): string =>
    `${(all[0] ?? 0).toFixed(0)} ms, fastest ${Math.min(...all).toFixed(0)} ms`;
  console.log(`${what}: ${count('sure')} sure, ${count('likely')} likely`);
  // Processor time says more on a machine that has other work; it counts all threads of the process.
  console.log(`  by the clock: first ${ms(times)}; of processors: first ${ms(busy)}`);
}

console.log(
  `${files * keysEach} keys in ${files} files, ${copies} copies, ${new Set(labels.map(({ setting }) => setting.id)).size} settings changed`,
);
const [one] = made;
// The process is cold for the first of these: --names puts the other one first.
const cases = [
  () => {
    measure('by changes and names', { copies: made, labels });
  },
  () => {
    measure('by names, one copy', { copies: one === undefined ? [] : [one], labels: [] });
  },
];
for (const run of process.argv.includes('--names') ? [...cases].reverse() : cases) run();
