import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { printRecord } from '../../../src/4-plan/print-record.ts';
import { PlanHistory, planLines } from '../../support/plan-history.ts';
import { readFolder } from '../../support/world.ts';

const folder = 'test/cases/plan';
const world = readFolder(join(folder, '_world'));
const names = readdirSync(folder).filter((name) => !name.startsWith('_'));

/** Each write in lines, and the record after the last. */
function story(name: string): string {
  const history = new PlanHistory(world);
  const parts: string[] = [];
  for (const happening of PlanHistory.of(readFileSync(join(folder, name, 'history.yaml'), 'utf8'))) {
    const planned = history.happen(happening);
    if (planned !== undefined) parts.push(`== write ${parts.length + 1}\n${planLines(planned)}`);
  }
  const { record } = history;
  return `${parts.join('\n\n')}\n\n== record\n${record === undefined ? '' : printRecord(record)}`;
}

describe('cases of plans', () => {
  it.each(names)('%s', (name) => {
    const text = story(name);
    const expectedPath = join(folder, name, 'expected.txt');
    if (process.env['UPDATE_CASES'] === '1') writeFileSync(expectedPath, text);
    expect(text).toBe(readFileSync(expectedPath, 'utf8'));
  });
});
