import { describe, expect, it } from 'vitest';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { loadLayers } from '../../../src/1-load/load-layers.ts';
import { printLock, readLock } from '../../../src/1-load/lock.ts';
import { pickVersion } from '../../../src/1-load/pick-version.ts';
import { findWorkspace } from '../../../src/1-load/workspace.ts';
import type { Shelf } from '../../../src/1-load/shelf.ts';

const root = hostPath('/w');

function layersOf(files: Readonly<Record<string, string>>): {
  names: readonly string[] | undefined;
  codes: readonly string[];
} {
  const disk = new MemoryFiles({ '/w/package.json': '{}', ...files });
  const workspace = findWorkspace(disk, root);
  if (workspace === undefined) throw new Error('no workspace');
  const { value, findings } = loadLayers(disk, workspace, hostPath('/w/p.yaml'));
  return { names: value?.map((layer) => layer.document.source.name), codes: findings.map((finding) => finding.code) };
}

const house = (name: string, extending = ''): string => `house: ${name}\nformat: 1\n${extending}`;
const profile = (extending: string): string =>
  `profile: p\nformat: 1\nextends: ${extending}\ndevice: {}\nfrontends: {}\n`;
const offer = (thumbwright: unknown): string => JSON.stringify({ name: 'x', thumbwright });

describe('layers', () => {
  it('loads a file that two others extend once, below both, later over earlier', () => {
    const { names, codes } = layersOf({
      '/w/p.yaml': profile('[a.yaml, b.yaml]'),
      '/w/a.yaml': house('a', 'extends: base.yaml\n'),
      '/w/b.yaml': house('b', 'extends: base.yaml\n'),
      '/w/base.yaml': house('base'),
    });
    expect(codes.filter((code) => code === 'extends-cycle')).toEqual([]);
    expect(names).toEqual(['base.yaml', 'a.yaml', 'b.yaml', 'p.yaml']);
  });

  it('takes packages by name, scoped ones too', () => {
    const { names } = layersOf({
      '/w/p.yaml': profile("[plain-house, '@village/house']"),
      '/w/node_modules/plain-house/package.json': offer({ house: 'h.yaml' }),
      '/w/node_modules/plain-house/h.yaml': house('plain'),
      '/w/node_modules/@village/house/package.json': offer({ house: 'in/h.yaml' }),
      '/w/node_modules/@village/house/in/h.yaml': house('scoped'),
    });
    expect(names).toEqual(['package:plain-house/h.yaml', 'package:@village/house/in/h.yaml', 'p.yaml']);
  });

  it.each([
    ['a package that offers nothing', '{}', 'no-such-package'],
    ['a package that offers dialects alone', offer({ dialects: 'd' }), 'no-such-package'],
    ['a package whose file lies outside it', offer({ house: '../../h.yaml' }), 'leads-outside'],
  ])('refuses %s', (_, about, code) => {
    const files = { '/w/p.yaml': profile('pack'), '/w/h.yaml': house('h'), '/w/node_modules/pack/package.json': about };
    expect(layersOf(files)).toEqual({ names: undefined, codes: [code] });
  });
});

describe('versions of packages (Semantic Versioning 2.0.0, sections 9 and 11; ranges as node-semver has them)', () => {
  const source = { name: 'x', text: '' };
  const base = { folder: root, real: root, label: '' };
  const shelf = (versions: readonly string[]): Shelf => ({
    items: versions.map((version) => ({ name: 'lark', version, path: root, base, source })),
    findings: [],
  });
  const take = (versions: readonly string[], range: string, pinned?: string): string | undefined =>
    pickVersion(shelf(versions), 'dialect', `lark@${range}`, { source, span: { start: 0, end: 0 } }, pinned).value
      ?.version;

  it('takes the highest by number, not by text, and no pre-release unasked', () => {
    expect(take(['1.9.0', '1.10.0', '1.2.0'], '1')).toBe('1.10.0');
    expect(take(['1.4.0', '1.5.0-rc.1'], '^1.4')).toBe('1.4.0');
    expect(take(['1.0.0-rc.1', '1.0.0-beta.11', '1.0.0-beta.2'], '>=1.0.0-beta')).toBe('1.0.0-rc.1');
    expect(take(['0.2.9', '0.3.0'], '^0.2.3')).toBe('0.2.9');
    expect(take(['0.0.3', '0.0.4'], '^0.0.3')).toBe('0.0.3');
  });

  it('keeps a pin that fits, and lets go one that does not', () => {
    expect(take(['1.4.0', '1.5.0'], '1', '1.4.0')).toBe('1.4.0');
    expect(take(['1.4.0', '1.5.0'], '^1.5', '1.4.0')).toBe('1.5.0');
    expect(take(['1.4.0', '1.5.0'], '1', undefined)).toBe('1.5.0');
  });

  it('reads the lock that it prints, in one order', () => {
    const one = { version: '1.4.0', sha256: 'a' };
    const two = { version: '2.0.0', sha256: '1e5' };
    const text = printLock(
      new Map([
        ['b@1', two],
        ['a@1', one],
      ]),
    );
    expect(text).toBe(
      printLock(
        new Map([
          ['a@1', one],
          ['b@1', two],
        ]),
      ),
    );
    expect(readLock({ name: 'lock.yaml', text })).toEqual({
      value: new Map([
        ['a@1', one],
        ['b@1', two],
      ]),
      findings: [],
    });
  });

  it.each(['', '<<<<<<< ours\n', 'dialects: [a]\n', 'dialects: { a: { version: 1.0.0 } }\n'])(
    'refuses the lock %j',
    (text) => {
      expect(readLock({ name: 'lock.yaml', text }).findings.map((finding) => finding.code)).toEqual(['bad-lock']);
    },
  );
});
