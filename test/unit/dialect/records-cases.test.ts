import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkDialect } from '../../../src/dialect/check-dialect.ts';
import { describeValue } from '../../../src/model/describe-value.ts';
import { makeLens } from '../../../src/dialect/make-lens.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { dialectDocument } from '../../support/dialect/dialect-document.ts';
import { layRecords, listIn } from '../../support/dialect/lay-records.ts';
import type { Want } from '../../support/dialect/lay-records.ts';
import { smallContext } from '../../support/dialect/small-context.ts';
import { valueFromText } from '../../support/dialect/value-text.ts';

/**
 * Each folder of test/cases/records holds a dialect, the file that its records stand in (`before.*`), what a profile
 * lists (`wants.txt`), and what comes of it: the file (`after.*`), and what each edit says (`expected.txt`). Reading
 * after building must give the profile's lists, and building what was read must change nothing.
 */
const folder = new URL('../../cases/records/', import.meta.url).pathname;

function wantsOf(text: string): readonly Want[] {
  return text
    .split('\n')
    .filter((line) => line.trim() !== '' && !line.startsWith('#'))
    .map((line) => {
      const [, setting = '', , item, value = ''] = /^(\S+)( \[([^\]]+)\])? =(.*)$/.exec(line) ?? [];
      // One list of games.lists is a list of games, as favourites are.
      const of = setting === 'games.lists' ? 'games.favourites' : setting;
      return { setting, item, value: valueFromText(of, value.trim()) };
    });
}

function check(path: string, told: string): void {
  if (process.env['UPDATE_CASES'] === '1') writeFileSync(path, told);
  expect(told).toBe(readFileSync(path, 'utf8'));
}

describe('records laid into a file', () => {
  it.each(readdirSync(folder))('%s', (name) => {
    const at = (file: string): string => join(folder, name, file);
    const dialect = dialectDocument(readFileSync(at('dialect.yaml'), 'utf8'));
    const before = readdirSync(at('.')).find((file) => file.startsWith('before.')) ?? '';
    const version = existsSync(at('version.txt')) ? readFileSync(at('version.txt'), 'utf8').trim() : '1.0';
    const { value: lens } = makeLens(smallContext(dialect, { version }), syntaxes);
    expect(checkDialect(dialect, new Map(), syntaxes)).toEqual([]);
    const wants = wantsOf(readFileSync(at('wants.txt'), 'utf8'));
    const text = readFileSync(at(before), 'utf8');
    const laid = layRecords(lens, dialect, text, wants);
    check(at(before.replace('before', 'after')), laid.text);
    check(at('expected.txt'), `${laid.told.join('\n')}\n`);
    // Only what could not be said is not read back as it was wanted.
    const said = wants.filter(({ setting, value, item }) => lens.spell(setting, value, {}, item).kind === 'exact');
    for (const { setting, item, value } of said) {
      const read = lens.readRecords(setting, listIn(dialect, laid.text), item, value);
      expect(read.kind === 'value' ? describeValue(read.value) : read.kind).toBe(describeValue(value));
    }
    // What is read from any of the two files and laid into it again changes no byte.
    for (const stands of [text, laid.text]) {
      const read = wants.flatMap(({ setting, item }) => {
        const back = lens.readRecords(setting, listIn(dialect, stands), item);
        return back.kind === 'value' ? [{ setting, item, value: back.value }] : [];
      });
      expect(layRecords(lens, dialect, stands, read).text).toBe(stands);
    }
  });
});
