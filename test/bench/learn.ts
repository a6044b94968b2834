// Prints how long learning takes: 5,000 keys in 20 files through eight copies. Usage: node test/tools/run.mjs test/bench/learn.ts
import { learn } from '../../src/learn/learn.ts';
import type { Copy, Label } from '../../src/learn/contract.ts';
import { settingById, settings } from '../../src/vocabulary/registry.ts';

const files = 20;
const keysEach = 250;
const copies = 8;
const switches = settings.filter(({ type }) => type.kind === 'boolean');
const wanted = (setting: number, copy: number): boolean => (((setting + 1) >> Math.max(0, copy - 2)) & 1) === 1;

const made: Copy[] = Array.from({ length: copies }, (_, copy) => ({
  name: String(copy + 1),
  leftAlone: [],
  texts: new Map(
    Array.from({ length: files }, (_unused, file) => {
      const lines = Array.from({ length: keysEach }, (_none, at) => {
        const number = file * keysEach + at;
        if (number % 50 === 3) return `count-${number} = ${copy * 7 + number}`;
        const setting = number % 100 === 0 ? number / 100 : undefined;
        return setting !== undefined && setting < switches.length
          ? `switch-${number} = ${copy >= 2 && wanted(setting, copy) ? 'on' : 'off'}`
          : `key-${number} = ${number % 3 === 0 ? 'true' : number}`;
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

const times: number[] = [];
let sure = 0;
for (let run = 0; run < 5; run++) {
  const start = performance.now();
  const { proposals } = learn([
    {
      name: 'bench',
      device: { id: 'bench', name: 'Bench' },
      copies: made,
      labels,
      parts: new Map(),
    },
  ]);
  times.push(performance.now() - start);
  sure = proposals.filter(({ grade }) => grade === 'sure').length;
}
console.log(
  `${files * keysEach} keys in ${files} files, ${copies} copies, ${new Set(labels.map(({ setting }) => setting.id)).size} settings changed`,
);
console.log(`${sure} sure; first ${(times[0] ?? 0).toFixed(0)} ms, fastest ${Math.min(...times).toFixed(0)} ms`);
