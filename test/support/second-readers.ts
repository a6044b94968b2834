import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeText } from '../../src/text/encoding.ts';

/** Key and value in the order read; undefined when the reader refuses the text. */
export type ReadPairs = readonly (readonly [string, string])[] | undefined;

// One process reads many texts: each line of its input is one, base64 of its bytes; each line of its output is JSON.
const scripts = {
  /** Python's configparser as most programs use it: no interpolation, case kept, keys without value allowed, nothing refused as double. */
  configparser: `
import sys, json, base64, configparser
for line in sys.stdin:
    text = base64.b64decode(line).decode('utf-8', 'surrogateescape')
    c = configparser.RawConfigParser(allow_no_value=True, strict=False, delimiters=('=',), default_section='\\0')
    c.optionxform = str
    try:
        c.read_string(text)
        print(json.dumps([['[%s] %s' % (s, k), '' if v is None else v] for s in c.sections() for k, v in c.items(s)]))
    except Exception:
        print('null')
`,
  /** Ten lines that read pairs as shells and small programs do: the first mark parts, blanks around fall away. */
  pairs: `
import sys, json, base64
for line in sys.stdin:
    found = {}
    for row in base64.b64decode(line).decode('utf-8', 'surrogateescape').replace('\\r\\n', '\\n').replace('\\r', '\\n').lstrip('\\ufeff').split('\\n'):
        row = row.strip(' \\t')
        if not row or row[0] in '#;' or (row[0] == '[' and row[-1] == ']') or '=' not in row: continue
        k, v = row.split('=', 1)
        if k.strip(' \\t'): found[k.strip(' \\t')] = v.strip(' \\t')
    print(json.dumps(list(found.items())))
`,
} as const;

/** What a Python reader makes of each text. */
export function readByPython(reader: keyof typeof scripts, texts: readonly string[]): readonly ReadPairs[] {
  const input = texts.map((text) => Buffer.from(encodeText(text)).toString('base64')).join('\n') + '\n';
  const done = spawnSync('python3', ['-c', scripts[reader]], { input, encoding: 'utf8', maxBuffer: 1 << 29 });
  if (done.status !== 0) throw new Error(done.stderr);
  return done.stdout
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as ReadPairs);
}

/** What `git config` makes of a text: `section.key`, in its own spelling. */
export function readByGit(text: string): ReadPairs {
  const folder = mkdtempSync(join(tmpdir(), 'thumbwright-git-'));
  try {
    const file = join(folder, 'config');
    writeFileSync(file, encodeText(text));
    const done = spawnSync('git', ['config', '-z', '--list', '-f', file], { encoding: 'utf8' });
    if (done.status !== 0) return undefined;
    return done.stdout
      .split('\0')
      .slice(0, -1)
      .map((entry): readonly [string, string] => {
        const at = entry.indexOf('\n');
        return at < 0 ? [entry, ''] : [entry.slice(0, at), entry.slice(at + 1)];
      });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
