import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { readPairs } from './read-pairs.ts';

/** A file as a program that is not ours reads it: every leaf by its key, as text. */
export type Leaves = ReadonlyMap<string, string>;

/** Python's configparser, with keys as they are written: `[section] key`. */
const ini = `
import configparser
parser = configparser.ConfigParser(interpolation=None, delimiters=('=',), comment_prefixes=('#',))
parser.optionxform = str
parser.read_string(open(sys.argv[1], encoding='utf-8').read())
print(json.dumps({f'[{section}] {key}': value for section in parser.sections() for key, value in parser.items(section)}))
`;

/** Python's tomllib: a dotted path, lists by index; texts as they are, everything else as JSON has it. */
const toml = `
import tomllib
leaves = {}
def walk(value, path):
    if isinstance(value, dict):
        for key, item in value.items(): walk(item, path + [key])
    elif isinstance(value, list):
        for index, item in enumerate(value): walk(item, path + [str(index)])
    else:
        leaves['.'.join(path)] = value if isinstance(value, str) else json.dumps(value, default=str)
walk(tomllib.load(open(sys.argv[1], 'rb')), [])
print(json.dumps(leaves))
`;

/** Python's expat: an XPath of element names, with a number where siblings share one; attributes too. */
const xml = `
import collections
import xml.etree.ElementTree as tree
leaves = {}
def walk(element, path):
    for name, value in element.attrib.items(): leaves[f'{path}/@{name}'] = value
    if len(element) == 0: leaves[path] = element.text or ''
    total = collections.Counter(child.tag for child in element)
    seen = collections.Counter()
    for child in element:
        seen[child.tag] += 1
        walk(child, f'{path}/{child.tag}' + (f'[{seen[child.tag]}]' if total[child.tag] > 1 else ''))
root = tree.parse(sys.argv[1]).getroot()
walk(root, '/' + root.tag)
print(json.dumps(leaves))
`;

/** jq: a JSON pointer; texts as they are, everything else as JSON has it. */
const jq = `[paths(type | IN("object", "array") | not) as $path
  | { key: ($path | map("/" + tostring) | add), value: (getpath($path) | if type == "string" then . else tojson end) }] | from_entries`;

/** Python's csv: what stands before the first comma of a line, and what stands behind it. */
const mappings = `
import csv
rows = csv.reader((line for line in open(sys.argv[1], encoding='utf-8', newline='') if not line.startswith('#')), quoting=csv.QUOTE_NONE)
print(json.dumps({row[0]: ','.join(row[1:]) for row in rows if row}))
`;

function leavesOf(json: string): Leaves {
  const read: unknown = JSON.parse(json);
  if (typeof read !== 'object' || read === null) throw new Error('The outside reader printed no object.');
  return new Map(Object.entries(read).map(([key, value]) => [key, String(value)]));
}

function run(program: string, args: readonly string[]): string {
  return execFileSync(program, args, { encoding: 'utf8' });
}

const python = (program: string, file: string): Leaves =>
  leavesOf(run('python3', ['-c', `import json, sys\n${program}`, file]));

/** What a shell that ran the file has in its environment, of the names that the demo's player looks at. */
function shell(file: string): Leaves {
  const lines = run('sh', ['-c', '. "$1" && env', 'sh', file]).split('\n');
  return new Map(
    lines
      .filter((line) => line.startsWith('HARROW_'))
      .map((line) => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)]),
  );
}

/** By the ending of a file's name. Throws when the outside reader refuses the file; a file that is not there has no leaves. */
export function readOutside(file: string): Leaves {
  if (!existsSync(file)) return new Map();
  if (file.endsWith('.conf')) return readPairs(readFileSync(file, 'utf8'));
  if (file.endsWith('.ini') || file.endsWith('.nmconnection')) return python(ini, file);
  if (file.endsWith('shapes.txt')) return python(mappings, file);
  if (file.endsWith('.toml')) return python(toml, file);
  if (file.endsWith('.json')) return leavesOf(run('jq', [jq, file]));
  if (file.endsWith('.sh')) return shell(file);
  if (!file.endsWith('.xml')) throw new Error(`No outside reader is known for ${file}.`);
  run('xmllint', ['--noout', '--nonet', file]);
  return python(xml, file);
}

/** The text of one element, as xmllint finds it by its XPath. */
export function xpathText(file: string, path: string): string {
  return run('xmllint', ['--nonet', '--xpath', `string(${path})`, file]).replace(/\n$/, '');
}
