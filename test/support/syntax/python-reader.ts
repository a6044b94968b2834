import { spawnSync } from 'node:child_process';

/** A scalar as Python read it, its type first: s text, i whole number, f float, b boolean, d date or time, n none. */
export type PythonScalar = readonly ['s' | 'i' | 'f' | 'b' | 'd' | 'n', string];
export type PythonValue =
  | PythonScalar
  | { readonly list: readonly PythonValue[] }
  | { readonly map: readonly (readonly [string, PythonValue])[] };
export type PythonAnswer = { readonly value: PythonValue } | { readonly error: string };

const script = `
import sys, json, datetime
def out(v):
    if isinstance(v, bool): return ['b', 'true' if v else 'false']
    if isinstance(v, int): return ['i', str(v)]
    if isinstance(v, float): return ['f', repr(v)]
    if isinstance(v, str): return ['s', v]
    if v is None: return ['n', '']
    if isinstance(v, dict): return {'map': [[k if isinstance(k, str) else json.dumps(out(k)), out(x)] for k, x in v.items()]}
    if isinstance(v, (list, tuple)): return {'list': [out(x) for x in v]}
    return ['d', v.isoformat()]
kind = sys.argv[1]
if kind == 'toml':
    import tomllib
    read = tomllib.loads
else:
    import yaml
    read = lambda text: yaml.load(text, Loader=yaml.SafeLoader)
for text in json.load(sys.stdin):
    try:
        print(json.dumps({'value': out(read(text))}))
    except Exception as e:
        print(json.dumps({'error': str(e) or type(e).__name__}))
`;

/** What Python's tomllib (3.11 and later) or PyYAML's safe loader makes of texts; undefined where it is not installed. */
export function readWithPython(kind: 'toml' | 'yaml', texts: readonly string[]): readonly PythonAnswer[] | undefined {
  // Debian's own interpreter has Debian's python3-yaml; another one may come first on the path.
  for (const python of ['/usr/bin/python3', 'python3']) {
    const run = spawnSync(python, ['-c', script, kind], {
      input: JSON.stringify(texts),
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    if (run.status !== 0) continue;
    return run.stdout
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as PythonAnswer);
  }
  return undefined;
}
