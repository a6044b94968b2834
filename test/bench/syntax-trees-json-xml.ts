// Whether reading and changing JSON and XML is linear on hostile texts: each is doubled, and the time of a double one
// must be about twice. User time of the processor is taken, which other work on the machine does not add to. Run: node test/tools/run.mjs test/bench/syntax-trees-json-xml.ts ['xml: as many']
import type { Change, RecordChange, Syntax } from '../../src/syntax/contract.ts';
import { json } from '../../src/syntax/json/json.ts';
import { xml } from '../../src/syntax/xml/xml.ts';

interface Hostile {
  readonly name: string;
  readonly syntax: Syntax;
  readonly text: (size: number) => string;
  readonly size: number;
  readonly changes?: (size: number) => readonly Change[];
  readonly records?: { readonly at: string; readonly changes: (size: number) => readonly RecordChange[] };
}

const set = (path: string): Change => ({ op: 'set', path, value: { kind: 'scalar', text: 'x' } });
const put = (by: string, is: string): RecordChange => ({
  op: 'put',
  by,
  is,
  fields: new Map([['loved', { kind: 'scalar', text: 'x' }]]),
});
const many = <T>(count: number, make: (k: number) => T): T[] => Array.from({ length: count }, (_, k) => make(k));

const hostile: readonly Hostile[] = [
  { name: 'json: brackets never closed', syntax: json, size: 200_000, text: (n) => '['.repeat(n) },
  {
    name: 'json: one long text',
    syntax: json,
    size: 500_000,
    text: (n) => `{"a": "${'x'.repeat(n)}"}`,
    changes: () => [set('/a')],
  },
  { name: 'json: escapes', syntax: json, size: 200_000, text: (n) => `["${'\\u0041'.repeat(n)}"]` },
  { name: 'json: comments never closed', syntax: json, size: 200_000, text: (n) => '/*'.repeat(n) },
  {
    name: 'json: every member set',
    syntax: json,
    size: 25_000,
    text: (n) => `{${many(n, (k) => `"k${k}": 1`).join(',\n')}}`,
    changes: (n) => many(n, (k) => set(`/k${k}`)),
  },
  {
    name: 'json: every member taken out',
    syntax: json,
    size: 25_000,
    text: (n) => `{${many(n, (k) => `"k${k}": 1`).join(',\n')}}`,
    changes: (n) => many(n, (k) => ({ op: 'remove', path: `/k${k}` })),
  },
  {
    name: 'json: as many put in as there are',
    syntax: json,
    size: 25_000,
    text: (n) => `{\n${many(n, (k) => `"k${k}": 1`).join(',\n')}\n}`,
    changes: (n) => many(n, (k) => set(`/n${k}`)),
  },
  {
    name: 'json: records',
    syntax: json,
    size: 10_000,
    text: (n) => `[${many(n, (k) => `{"path": "${k}"}`).join(',\n')}]`,
    records: { at: '', changes: (n) => many(n, (k) => put('path', String(k * 2))) },
  },
  { name: 'xml: elements never closed', syntax: xml, size: 200_000, text: (n) => '<a>'.repeat(n) },
  {
    name: 'xml: one long attribute',
    syntax: xml,
    size: 1_000_000,
    text: (n) => `<a b="${'x'.repeat(n)}"/>`,
    changes: () => [set('/a/@b')],
  },
  {
    name: 'xml: attributes of one element',
    syntax: xml,
    size: 25_000,
    text: (n) => `<a${many(n, (k) => ` k${k}="1"`).join('')}/>`,
    changes: (n) => many(n, (k) => set(`/a/@k${k}`)),
  },
  { name: 'xml: comments never closed', syntax: xml, size: 100_000, text: (n) => '<!-'.repeat(n) },
  {
    name: 'xml: comments in a document type',
    syntax: xml,
    size: 100_000,
    text: (n) => `<!DOCTYPE a [${'<!--'.repeat(n)}`,
  },
  {
    name: 'xml: quotes in a document type',
    syntax: xml,
    size: 100_000,
    text: (n) => `<!DOCTYPE a [<!ELEMENT a ${'('.repeat(n)}`,
  },
  {
    name: 'xml: references',
    syntax: xml,
    size: 100_000,
    text: (n) => `<a>${'&amp;'.repeat(n)}</a>`,
    changes: () => [set('/a')],
  },
  { name: 'xml: ampersands', syntax: xml, size: 100_000, text: (n) => `<a>${'&'.repeat(n)}</a>` },
  {
    name: 'xml: blanks',
    syntax: xml,
    size: 2_000_000,
    text: (n) => `<a>${' \n'.repeat(n)}<b/></a>`,
    changes: () => [{ op: 'remove', path: '/a/b' }],
  },
  {
    name: 'xml: every option set by its name',
    syntax: xml,
    size: 10_000,
    text: (n) => `<s>${many(n, (k) => `\n<o name="k${k}" value="1"/>`).join('')}</s>`,
    changes: (n) => many(n, (k) => set(`/s/o[@name='k${k}']/@value`)),
  },
  {
    name: 'xml: every option taken out',
    syntax: xml,
    size: 10_000,
    text: (n) => `<s>${many(n, (k) => `\n<o name="k${k}" value="1"/>`).join('')}</s>`,
    changes: (n) => many(n, (k) => ({ op: 'remove', path: `/s/o[@name='k${k}']` })),
  },
  {
    name: 'xml: as many put in as there are',
    syntax: xml,
    size: 4_000,
    text: (n) => `<s>${many(n, (k) => `\n<o name="k${k}" value="1"/>`).join('')}</s>`,
    changes: (n) => many(n, (k) => set(`/s/o[@name='n${k}']/@value`)),
  },
  {
    name: 'xml: as many put in, by a child',
    syntax: xml,
    size: 4_000,
    text: (n) => `<g>${many(n, (k) => `\n<game><path>${k}</path></game>`).join('')}</g>`,
    changes: (n) => many(n, (k) => set(`/g/game[path='n${k}']/loved`)),
  },
  {
    name: 'xml: as many put in, by index',
    syntax: xml,
    size: 4_000,
    text: (n) => `<g>${many(n, (k) => `\n<game>${k}</game>`).join('')}</g>`,
    changes: (n) => many(n, (k) => set(`/g/game[${n + k + 1}]`)),
  },
  {
    name: 'xml: as many put in, by name',
    syntax: xml,
    size: 4_000,
    text: (n) => `<g>${many(n, (k) => `\n<k${k}>1</k${k}>`).join('')}</g>`,
    changes: (n) => many(n, (k) => set(`/g/n${k}`)),
  },
  {
    name: 'xml: records',
    syntax: xml,
    size: 10_000,
    text: (n) => `<g>${many(n, (k) => `\n<game><path>${k}</path></game>`).join('')}</g>`,
    records: { at: '/g/game', changes: (n) => many(n, (k) => put('path', String(k * 2))) },
  },
];

function once({ syntax, text, changes, records }: Hostile, size: number): number {
  const source = { name: 'hostile', text: text(size) };
  const asked = changes?.(size) ?? [];
  const recordsAsked = records?.changes(size) ?? [];
  const start = process.cpuUsage();
  const { tree } = syntax.parse(source, {});
  if (tree !== undefined) {
    tree.keys();
    syntax.change(tree, asked);
    if (records !== undefined) syntax.records?.change(tree, records.at, recordsAsked);
  }
  return process.cpuUsage(start).user / 1e3;
}

/** The least of several runs: caches and the collector only add. */
const least = (of: Hostile, size: number): number => Math.min(...many(4, () => once(of, size)));

let worst = 0;
for (const of of hostile.filter(({ name }) => name.startsWith(process.argv[2] ?? ''))) {
  least(of, Math.min(of.size, 2_000));
  const times = [1, 2, 4].map((times) => least(of, of.size * times));
  const [one = 1, , four = 1] = times;
  // Below some milliseconds the clock (of ticks) and the collector say more than the text.
  const ratio = four / Math.max(one, 8) / 4;
  worst = Math.max(worst, ratio);
  console.log(
    `${of.name.padEnd(36)} ${String(of.size).padStart(8)}  ${times.map((time) => time.toFixed(1).padStart(8)).join('')} ms   ${ratio.toFixed(2)} of linear`,
  );
}
console.log(`\nworst: ${worst.toFixed(2)} of linear (2 would be quadratic once over, 4 twice)`);
if (worst > 2) process.exitCode = 1;
