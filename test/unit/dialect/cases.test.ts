import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { checkDialect } from '../../../src/dialect/check-dialect.ts';
import type { Context, KeyLookup, Lens, ReadBack, Spelled } from '../../../src/dialect/contract.ts';
import { describeValue } from '../../../src/model/describe-value.ts';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import type { Finding } from '../../../src/diagnostics/finding.ts';
import type { ScopePoint } from '../../../src/model/resolved.ts';
import type { Value } from '../../../src/model/value.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import type { SyntaxValue } from '../../../src/syntax/contract.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import type { Span } from '../../../src/text/span.ts';
import type { SourceText } from '../../../src/text/source-text.ts';
import { isPosition } from '../../../src/vocabulary/positions.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';
import { smallContext } from '../../support/dialect/small-context.ts';
import { valueFromText } from '../../support/dialect/value-text.ts';

/**
 * Each folder of test/cases/dialect holds a `dialect.yaml`, what is asked of it (`wants.txt`), perhaps facts of the
 * instance (`context.yaml`: version, hold, root) and template files, and what comes of it (`expected.txt`).
 * UPDATE_CASES=1 writes the expected files anew.
 */
const folder = new URL('../../cases/dialect/', import.meta.url).pathname;

function tellFinding(finding: Finding): string {
  const { place } = finding;
  const at = place === undefined ? '' : lineColumn(place.source, place.span.start);
  const where = place === undefined || at === '' ? '' : `${place.source.name}:${at.line}:${at.column} `;
  return `${where}${finding.grade} ${finding.code}\n    ${finding.detail}\n    ${finding.wayOut}`;
}

function tellHeld(value: SyntaxValue | undefined): string {
  if (value === undefined) return '(removed)';
  if (value.kind === 'list')
    return `[${value.items.map((item) => (item.literal === true ? item.text : JSON.stringify(item.text))).join(', ')}]`;
  return value.literal === true ? `${value.text} (bare)` : value.text;
}

function tellSpelled(spelled: Spelled): readonly string[] {
  if (spelled.kind === 'cannot') return [`cannot be said there (${spelled.code}): ${spelled.why}`];
  return [
    spelled.kind === 'exact' ? 'exact' : `approximated: ${spelled.how}`,
    ...spelled.writes.map(({ path, key, value, rule }) => `${path}  ${key} = ${tellHeld(value)}  (${rule.says})`),
  ];
}

function tellRead(read: ReadBack): string {
  switch (read.kind) {
    case 'value':
      return describeValue(read.value);
    case 'absent':
      return 'nothing: no key is there';
    case 'unreadable':
      return `cannot be read: ${read.keys.map(({ key, text }) => `${key} = ${text}`).join(', ')}`;
    case 'half-changed':
      return `half changed: ${read.keys.map(({ key }) => key).join(', ')}`;
  }
}

function pointOf(text: string | undefined): ScopePoint {
  const point: { core?: string; system?: string; game?: string } = {};
  for (const part of (text ?? '').split(',').filter((one) => one !== '')) {
    const [name, value = ''] = part.split('=');
    if (name === 'core' || name === 'system' || name === 'game') point[name] = value;
    else throw new Error(`no scope: ${part}`);
  }
  return point;
}

function lookIn(spelled: Spelled): KeyLookup {
  const writes = spelled.kind === 'cannot' ? [] : spelled.writes;
  return (path, key) => writes.find((write) => write.path === path && write.key === key)?.value;
}

/** Records are listed, keys looked up. */
function backOf(lens: Lens, id: string, point: ScopePoint, spelled: Spelled, item: string | undefined): ReadBack {
  const records = spelled.kind === 'cannot' ? [] : spelled.writes.filter(({ record }) => record !== undefined);
  if (records.length === 0) return lens.read(id, point, lookIn(spelled), undefined, item);
  return lens.readRecords(
    id,
    (_, path, at) =>
      records.flatMap(({ path: own, value, record }) => {
        if (own !== path || record?.at !== at || value?.kind !== 'scalar') return [];
        const fields = new Map([
          [record.by, record.is],
          [record.field, value.text],
        ]);
        return [{ span: { start: 0, end: 0 }, fields, places: new Map<string, Span>() }];
      }),
    item,
  );
}

function answer(line: string, lens: Lens): readonly string[] {
  const make = /^make( @(.+?))?: (.+)$/.exec(line);
  if (make !== null) {
    const values = new Map<string, Value>(
      (make[3] ?? '').split(' / ').map((one): [string, Value] => {
        const [id = '', text = ''] = one.split(' = ');
        return [id, valueFromText(id, text)];
      }),
    );
    const point = pointOf(make[2]);
    const made = lens
      .wholeFiles((id) => values.get(id), point)
      .flatMap(({ made: one, settings }) =>
        one.kind === 'cannot'
          ? [`cannot be made (${one.code}): ${one.why}`]
          : [
              `${one.path}  mode ${one.mode?.toString(8) ?? '-'}  owner ${one.owner ?? '-'}  of ${settings.join(', ')}`,
              ...one.text.split('\n').map((text) => `| ${text}`),
            ],
      );
    return [...lens.computed((id) => values.get(id), point).flatMap(({ spelled }) => tellSpelled(spelled)), ...made];
  }
  const read = /^read (\S+)( @(.+?))?:(.*)$/.exec(line);
  if (read !== null) {
    const held = new Map(
      (read[4] ?? '')
        .trim()
        .split('; ')
        .filter((one) => one !== '')
        .map((one) => [one.split(' = ')[0] ?? '', one.split(' = ')[1] ?? '']),
    );
    const look: KeyLookup = (_, key) => {
      const text = held.get(key);
      return text === undefined ? undefined : { kind: 'scalar', text };
    };
    return [tellRead(lens.read(read[1] ?? '', pointOf(read[3]), look))];
  }
  const want = /^(\S+)( @(.+?))?( \[([^\]]+)\])? =(.*)$/.exec(line);
  if (want === null) throw new Error(`cannot be asked: ${line}`);
  const [, id = '', , at, , item, text = ''] = want;
  const point = pointOf(at);
  const value = valueFromText(id, text.trim());
  const spelled = lens.spell(id, value, point, item);
  const back =
    spelled.kind === 'cannot' || spelled.writes.length === 0
      ? []
      : [`read back: ${tellRead(backOf(lens, id, point, spelled, item))}`];
  return [...tellSpelled(spelled), ...back];
}

interface Facts {
  readonly version?: string;
  readonly hold?: string;
  readonly root?: string;
}

function contextChanges(path: string): Partial<Context> {
  if (!existsSync(path)) return {};
  const { version, hold, root } = parse(readFileSync(path, 'utf8'), { schema: 'failsafe' }) as Facts;
  return {
    ...(version === undefined ? {} : { version: version === 'null' ? undefined : version }),
    ...(hold === undefined ? {} : { hold: isPosition(hold) ? hold : undefined }),
    ...(root === undefined ? {} : { root }),
  };
}

function run(name: string): string {
  const at = (file: string): string => join(folder, name, file);
  const dialect = dialectDocument(readFileSync(at('dialect.yaml'), 'utf8'));
  const templates = new Map<string, SourceText>(
    readdirSync(join(folder, name))
      .filter((file) => file.endsWith('.hbs'))
      .map((file) => [file, { name: file, text: readFileSync(at(file), 'utf8') }]),
  );
  const context = smallContext(dialect, { templates, ...contextChanges(at('context.yaml')) });
  const { value: lens, findings } = makeLens(context, syntaxes);
  const parts = [...checkDialect(dialect, templates, syntaxes), ...findings].map(tellFinding);
  const wants = existsSync(at('wants.txt')) ? readFileSync(at('wants.txt'), 'utf8').split('\n') : [];
  for (const line of wants) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    parts.push([line, ...answer(line, lens).map((one) => `    ${one}`)].join('\n'));
  }
  return `${parts.join('\n')}\n`;
}

describe('cases of dialects', () => {
  it.each(readdirSync(folder))('%s', (name) => {
    const told = run(name);
    const file = join(folder, name, 'expected.txt');
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(file, told);
    expect(told).toBe(readFileSync(file, 'utf8'));
  });
});
