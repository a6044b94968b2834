// Walks test/cases/adopt: each folder holds profiles (and a house), a card with the files that differ from what
// profile.yaml compiles to, maybe secrets.yaml (what is known) and options.yaml, and expected/: the
// YAML files that change, and told.txt. UPDATE_CASES=1 writes the expected files.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { adoptionText } from '../../../src/report/adoption-text.ts';
import { encodeText } from '../../../src/text/encoding.ts';
import { adoptCard, cardFolder, writeCard } from '../../support/adopt/adopt-world.ts';
import { readFolder } from '../../support/world.ts';

const root = new URL('../../cases/adopt', import.meta.url).pathname;
const demo = Object.entries(readFolder('profiles')).filter(([path]) => path.includes('/'));

interface CaseOptions {
  readonly only?: readonly string[];
  readonly at?: string;
  readonly all?: boolean;
}

function readYaml(path: string): unknown {
  return existsSync(path) ? parse(readFileSync(path, 'utf8')) : {};
}

describe.each(readdirSync(root))('adopt case %s', (name) => {
  it('writes and tells what is expected', () => {
    const folder = join(root, name);
    const yaml = readdirSync(folder).filter((file) => /\.yaml$/.test(file) && !/^(options|secrets)\.yaml$/.test(file));
    const files = new MemoryFiles({
      '/w/package.json': '{}',
      ...Object.fromEntries(demo.map(([path, bytes]) => [`/w/profiles/${path}`, bytes])),
      ...Object.fromEntries(yaml.map((file) => [`/w/profiles/${file}`, readFileSync(join(folder, file))])),
    });
    writeCard(files, 'profile', true);
    // What a hand changed: lines of `key: value` in the place of those with the same key.
    for (const [path, bytes] of Object.entries(readFolder(join(folder, 'card')))) {
      const at = files.join(cardFolder, path);
      const read = files.read(at);
      const now = read.kind === 'bytes' ? Buffer.from(read.bytes).toString() : '';
      files.write(at, encodeText(withLines(now, Buffer.from(bytes).toString())));
    }
    const options = readYaml(join(folder, 'options.yaml')) as CaseOptions;
    const secrets = readYaml(join(folder, 'secrets.yaml')) as Readonly<Record<string, string>>;
    const { told } = adoptCard(files, 'profile', {
      alternatives: true,
      all: options.all === true,
      only: options.only === undefined ? undefined : new Set(options.only),
      at: options.at,
      secretText: (secret) => secrets[secret],
    });
    const found: Record<string, string> = { 'told.txt': adoptionText(told) };
    for (const file of told.files) found[file.name.replace('profiles/', '')] = file.text;
    if (told.secrets.length > 0)
      found['secrets.txt'] = told.secrets.map((one) => `${one.name}: ${one.text}\n`).join('');
    const expectedFolder = join(folder, 'expected');
    if (process.env['UPDATE_CASES'] === '1') {
      rmSync(expectedFolder, { recursive: true, force: true });
      mkdirSync(expectedFolder);
      for (const [file, text] of Object.entries(found)) writeFileSync(join(expectedFolder, file), text);
    }
    const expected = Object.fromEntries(
      readdirSync(expectedFolder).map((file) => [file, readFileSync(join(expectedFolder, file), 'utf8')]),
    );
    expect(found).toEqual(expected);
  });
});

/** A text with some of its lines replaced by those of the same key, and new ones at the end. */
function withLines(text: string, lines: string): string {
  return lines
    .split('\n')
    .filter((line) => line !== '')
    .reduce((now, line) => {
      const key = /^([^:=]+?) *[:=]/.exec(line)?.[1] ?? line;
      const old = new RegExp(`^${key.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&')} *[:=].*$`, 'm');
      return old.test(now) ? now.replace(old, () => line) : `${now}${line}\n`;
    }, text);
}
