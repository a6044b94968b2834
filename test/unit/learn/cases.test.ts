import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { hostPath } from '../../../src/model/paths.ts';
import { readCopy } from '../../../src/learn/copies/read-copy.ts';
import { learn } from '../../../src/learn/learn.ts';
import { dialectText } from '../../../src/learn/write/dialect-text.ts';
import { extendDialect } from '../../../src/learn/write/extend-dialect.ts';
import { readDialect } from '../../../src/1-load/read-document.ts';
import { checkDialect } from '../../../src/dialect/check-dialect.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { learntText } from '../../../src/report/learnt-text.ts';
import { findingJson } from '../../../src/report/json-findings.ts';
import { seriesOf } from '../../support/learn/our-learner.ts';
import type { Label } from '../../support/learn/corpus-entry.ts';
import { readFolder, makeWorld } from '../../support/world.ts';

const folder = 'test/cases/learn';
const names = readdirSync(folder).filter((name) => !name.startsWith('_'));

interface CaseFile {
  readonly stands?: readonly Label[];
  readonly copies: Readonly<Record<string, readonly Label[]>>;
}

/** What is told of one case, and the dialect that it gives. */
function outcome(name: string): { readonly report: string; readonly dialect: string } {
  const at = join(folder, name);
  const given = parse(readFileSync(join(at, 'labels.yaml'), 'utf8')) as CaseFile;
  const copyNames = Object.keys(given.copies);
  const series = seriesOf({
    frontend: name,
    copies: copyNames.map((copy) => ({ name: copy, files: new Map() })),
    labels: new Map(Object.entries(given.copies)),
    stands: given.stands ?? [],
    profile: readFileSync(join(folder, '_device', 'profile.yaml'), 'utf8'),
    capture: readFileSync(join(folder, '_device', 'capture.txt'), 'utf8'),
  });
  const world = readFolder(at);
  const files = makeWorld(world, []);
  const copies = copyNames.map((copy) => readCopy(files, hostPath(`/w/${copy}`), copy));
  const learnt = learn([{ ...series, copies }]);
  const parts = {
    name: 'learnt',
    roles: ['player'] as const,
    learnt,
    taken: learnt.proposals.filter(({ grade }) => grade === 'sure'),
    controls: learnt.controls?.grade === 'sure',
  };
  const standing = existsSync(join(at, 'standing.yaml')) ? readFileSync(join(at, 'standing.yaml'), 'utf8') : undefined;
  const document = standing === undefined ? undefined : readDialect({ name: 'standing.yaml', text: standing }).value;
  const extended = document === undefined ? undefined : extendDialect(document, parts);
  const findings = learnt.findings.map((finding) => {
    const { code, grade, detail, wayOut } = findingJson(finding);
    return `${grade} ${code}\n  ${detail}\n  way out: ${wayOut}\n`;
  });
  const otherwise = (extended?.otherwise ?? []).map((id) => `${id} is spelled otherwise already\n`);
  return {
    report: [...findings, ...otherwise, learntText(learnt, 100)].join(''),
    dialect: extended?.text ?? dialectText(parts),
  };
}

describe('cases of learn', () => {
  it.each(names)('%s', (name) => {
    const { report, dialect } = outcome(name);
    for (const [file, text] of [
      ['expected.txt', report],
      ['expected.yaml', dialect],
    ] as const) {
      const path = join(folder, name, file);
      if (process.env['UPDATE_CASES'] === '1') writeFileSync(path, text);
      expect(text).toBe(readFileSync(path, 'utf8'));
    }
    // Whatever is written can be read again, and nothing in it is wrong.
    const read = readDialect({ name: 'learnt.yaml', text: dialect });
    expect(read.findings).toEqual([]);
    if (read.value !== undefined)
      expect(checkDialect(read.value, new Map(), syntaxes).filter(({ grade }) => grade === 'error')).toEqual([]);
  });
});
