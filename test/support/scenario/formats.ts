// How eight formats are written and read when a file is nothing but keys with short texts: by a few lines each, which share
// nothing with the syntaxes of the tool.

export type Line =
  | { readonly kind: 'key'; readonly name: string; readonly text: string }
  | { readonly kind: 'note'; readonly text: string };

export interface Format {
  readonly syntax: string;
  /** The `style:` of the dialect, as YAML flow text. */
  readonly style: string;
  /** A key by name, as a dialect writes it. */
  key(name: string): string;
  print(lines: readonly Line[]): string;
  /** A line of the text that holds a key; group 1 is its name, group 2 its text. */
  readonly line: RegExp;
}

function byLine(note: string, key: (name: string, text: string) => string, head = '', foot = ''): Format['print'] {
  return (lines) =>
    head +
    lines.map((one) => (one.kind === 'note' ? note.replace('%', one.text) : key(one.name, one.text)) + '\n').join('') +
    foot;
}

const same = (name: string): string => name;

export const formats: readonly Format[] = [
  {
    syntax: 'pairs',
    style: '{ separator: " = ", comment: "#" }',
    key: same,
    print: byLine('# %', (name, text) => `${name} = ${text}`),
    line: /^([a-z0-9-]+) = (.*)$/,
  },
  {
    syntax: 'properties',
    style: '{ comment: "#" }',
    key: same,
    print: byLine('# %', (name, text) => `${name}=${text}`),
    line: /^([a-z0-9-]+)=(.*)$/,
  },
  {
    syntax: 'ini',
    style: '{ comment: "#" }',
    key: (name) => `[part] ${name}`,
    print: byLine('# %', (name, text) => `${name} = ${text}`, '[part]\n'),
    line: /^([a-z0-9-]+) ?= ?(.*)$/,
  },
  {
    syntax: 'lines',
    style: '{ separator: ",", comment: "#" }',
    key: same,
    print: byLine('# %', (name, text) => `${name},${text}`),
    line: /^([a-z0-9-]+),(.*)$/,
  },
  {
    syntax: 'toml',
    style: '{ comment: "#" }',
    key: same,
    print: byLine('# %', (name, text) => `${name} = "${text}"`),
    line: /^([a-z0-9-]+) = "?([^"]*)"?$/,
  },
  {
    syntax: 'yaml',
    style: '{ comment: "#" }',
    key: same,
    print: byLine('# %', (name, text) => `${name}: "${text}"`),
    line: /^([a-z0-9-]+): ["']?([^"']*)["']?$/,
  },
  {
    syntax: 'json',
    style: '{ indent: "  " }',
    key: (name) => `/${name}`,
    // JSON has no comments: what is said is a key that nobody owns.
    print: (lines) =>
      `{\n${lines.map((one, at) => (one.kind === 'note' ? `  "note-${at}": "${one.text}"` : `  "${one.name}": "${one.text}"`)).join(',\n')}\n}\n`,
    line: /^\s*"([a-z0-9-]+)": "?([^",]*)"?,?$/,
  },
  {
    syntax: 'xml',
    style: '{ indent: "  " }',
    key: (name) => `/all/${name}`,
    print: byLine('  <!-- % -->', (name, text) => `  <${name}>${text}</${name}>`, '<all>\n', '</all>\n'),
    line: /^\s*<([a-z0-9-]+)>([^<]*)<\/\1>$/,
  },
];

/** Every key of a text with what it holds. */
export function readKeys(format: Format, text: string): ReadonlyMap<string, string> {
  return new Map(
    text.split('\n').flatMap((line) => {
      const [, name, held] = format.line.exec(line) ?? [];
      return name === undefined || held === undefined ? [] : [[name, held] as const];
    }),
  );
}

/** All lines but those of some keys; commas at line ends are JSON's way to part members, and belong to none. */
export function linesWithout(format: Format, text: string, names: ReadonlySet<string>): readonly string[] {
  return text
    .split('\n')
    .filter((line) => {
      const name = format.line.exec(line)?.[1];
      return name === undefined || !names.has(name);
    })
    .map((line) => (format.syntax === 'json' ? line.replace(/,$/, '') : line));
}
