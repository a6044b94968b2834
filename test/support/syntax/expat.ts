import { execFileSync } from 'node:child_process';

/** Every leaf text and attribute of a document by its path with all indexes, as Python's expat reads it. */
export type ExpatReading = ReadonlyMap<string, string>;

const program = `
import base64, json, sys
from xml.parsers import expat
def read(data):
    values, stack = {}, []
    tops = {}
    parser = expat.ParserCreate()
    parser.ordered_attributes = True
    parser.buffer_text = True
    parser.specified_attributes = True
    def start(name, attributes):
        counts = stack[-1]['counts'] if stack else tops
        counts[name] = counts.get(name, 0) + 1
        path = (stack[-1]['path'] if stack else '') + '/%s[%d]' % (name, counts[name])
        if stack: stack[-1]['leaf'] = False
        stack.append({'path': path, 'counts': {}, 'leaf': True, 'text': []})
        for k in range(0, len(attributes), 2): values[path + '/@' + attributes[k]] = attributes[k + 1]
    def end(name):
        top = stack.pop()
        if top['leaf']: values[top['path']] = ''.join(top['text'])
    def text(data):
        if stack: stack[-1]['text'].append(data)
    parser.StartElementHandler, parser.EndElementHandler, parser.CharacterDataHandler = start, end, text
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as error:
        return str(error)
    return values
for line in sys.stdin:
    print(json.dumps(read(base64.b64decode(line))))
`;

/** Reads many documents in one run. A document that expat refuses gives its message. */
export function readWithExpat(documents: readonly Uint8Array[]): readonly (ExpatReading | string)[] {
  const input = documents.map((bytes) => Buffer.from(bytes).toString('base64')).join('\n');
  const output = execFileSync('python3', ['-c', program], { input, maxBuffer: 2 ** 30, encoding: 'utf8' });
  return output
    .trimEnd()
    .split('\n')
    .map((line) => {
      const read: unknown = JSON.parse(line);
      return typeof read === 'string'
        ? read
        : new Map(Object.entries(read ?? {}).map(([path, value]) => [path, String(value)]));
    });
}

/** A path of ours with every index written. */
export function withIndexes(path: string): string {
  return path.replace(/\/([^/@[\]]+)(?!\[)(?=\/|$)/g, '/$1[1]');
}
