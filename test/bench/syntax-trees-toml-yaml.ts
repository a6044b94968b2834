// Whether reading and changing TOML and YAML take time in proportion to the text, on texts made to be slow: each is
// doubled several times, and a step of more than three times the time for twice the text is told.
// Usage: node test/tools/run.mjs test/bench/syntax-trees-toml-yaml.ts
import { applyEdits } from '../../src/text/text-edit.ts';
import type { Change, RecordChange, Syntax } from '../../src/syntax/contract.ts';
import { toml } from '../../src/syntax/toml/toml.ts';
import { yaml } from '../../src/syntax/yaml/yaml.ts';

type Make = (size: number) => string;
const lines = (size: number, line: (k: number) => string): string =>
  Array.from({ length: size }, (_, k) => line(k)).join('');

const texts: readonly (readonly [Syntax, string, Make])[] = [
  [toml, 'keys', (n) => lines(n, (k) => `key${k} = ${k}\n`)],
  [toml, 'tables', (n) => lines(n, (k) => `[t${k}]\na = ${k}\n`)],
  [toml, 'tables in one table', (n) => lines(n, (k) => `[t.t${k}]\na = ${k}\n`)],
  [toml, 'array of tables', (n) => lines(n, (k) => `[[t]]\na = ${k}\n`)],
  [toml, 'one long array', (n) => `a = [${'1, '.repeat(n)}]\n`],
  [toml, 'one inline table', (n) => `a = {${lines(n, (k) => `k${k} = 1, `).slice(0, -2)}}\n`],
  [toml, 'dotted keys', (n) => lines(n, (k) => `a.b.c${k} = ${k}\n`)],
  [toml, 'comments', (n) => `${'# c\n'.repeat(n)}a = 1\n`],
  [toml, 'blank lines', (n) => `a = 1\n${'\n'.repeat(n)}[b]\nc = 1\n`],
  [toml, 'open brackets', (n) => `a = ${'['.repeat(n)}`],
  [toml, 'open quotes', (n) => 'a = """"'.repeat(n)],
  [toml, 'one long string', (n) => `a = "${'x'.repeat(n * 8)}"\n`],
  [yaml, 'keys', (n) => lines(n, (k) => `key${k}: ${k}\n`)],
  [yaml, 'one flow list', (n) => `a: [${'1, '.repeat(n)}1]\n`],
  [yaml, 'one flow mapping', (n) => `a: {${lines(n, (k) => `k${k}: 1, `)}}\n`],
  [yaml, 'one block list', (n) => `a:\n${'  - x\n'.repeat(n)}`],
  [yaml, 'records', (n) => lines(n, (k) => `- a: ${k}\n  b: 1\n`)],
  [yaml, 'comments', (n) => `${'# c\n'.repeat(n)}a: 1\n`],
  [yaml, 'blank lines', (n) => `a: |+\n  x\n${'\n'.repeat(n)}b: 1\n`],
  [yaml, 'open brackets', (n) => '['.repeat(n)],
  [yaml, 'dashes', (n) => '- '.repeat(n)],
  [yaml, 'aliases of one long list', (n) => `l: &l [${'1, '.repeat(n)}1]\n${lines(n, (k) => `k${k}: *l\n`)}`],
  [yaml, 'aliases of aliases', (n) => `a0: &a0 [x, x]\n${lines(n, (k) => `a${k + 1}: &a${k + 1} [*a${k}, *a${k}]\n`)}`],
  [yaml, 'quotes', (n) => `a: ${"'x".repeat(n)}'\n`],
  [yaml, 'documents', (n) => '---\na: 1\n'.repeat(n)],
  [yaml, 'a folded line', (n) => `a: >\n${'  word word\n'.repeat(n)}`],
];

/** Reads, lists, sets a hundred keys, adds a hundred and removes a hundred. Milliseconds of the processor's user time. */
function work(syntax: Syntax, text: string): number {
  const start = process.cpuUsage();
  const { tree } = syntax.parse({ name: 'bench', text }, {});
  if (tree !== undefined) {
    const keys = tree.keys();
    const some = keys.filter((_, k) => k % Math.max(1, Math.floor(keys.length / 200)) === 0).slice(0, 200);
    const changes: Change[] = some.map(({ path }, k) =>
      k % 2 === 0 ? { op: 'set', path, value: { kind: 'scalar', text: 'fresh' } } : { op: 'remove', path },
    );
    for (let k = 0; k < 100; k++)
      changes.push({ op: 'set', path: `new${k % 10}.n${k}`, value: { kind: 'scalar', text: 'x' } });
    applyEdits(text, syntax.change(tree, changes).edits);
    const at = keys[0]?.path.startsWith('[') === true ? '.' : 't';
    const puts = Array.from({ length: 100 }, (_, k): RecordChange => ({
      op: 'put',
      by: 'id',
      is: `r${k}`,
      fields: new Map(),
    }));
    applyEdits(text, syntax.records?.change(tree, at, puts).edits ?? []);
  }
  return process.cpuUsage(start).user / 1e3;
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;
let slow = 0;
for (const [syntax, name, make] of texts) {
  const times: number[] = [];
  for (const size of [4000, 8000, 16000, 32000]) {
    const text = make(size);
    work(syntax, text);
    times.push(median([work(syntax, text), work(syntax, text), work(syntax, text)]));
  }
  const ratios = times.slice(1).map((time, k) => time / Math.max(1, times[k] ?? 1));
  // Three doublings of linear work are eight times as long; small texts are all noise.
  const whole = (times.at(-1) ?? 0) / Math.max(1, times[0] ?? 1);
  const verdict = whole > 16 ? 'NOT LINEAR' : 'linear';
  if (whole > 16) slow += 1;
  console.log(
    `${syntax.name} ${name}: ${times.map((time) => time.toFixed(1)).join(', ')} ms; doubling ${ratios.map((ratio) => ratio.toFixed(1)).join(', ')}; ${verdict}`,
  );
}
process.exitCode = slow === 0 ? 0 : 1;
