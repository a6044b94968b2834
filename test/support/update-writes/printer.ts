/** The syntaxes of a scenario, each with a printer and a reader of its own: one key a line, and nothing of `src`. */
export interface Printer {
  readonly style?: string;
  readonly open: readonly string[];
  readonly close: readonly string[];
  /** How a dialect names the key. */
  key(name: string): string;
  /** `other`: in the program's other way of quoting. */
  line(name: string, text: string, other: boolean): string;
  readonly reads: RegExp;
}

export const printers = {
  pairs: {
    style: '{ separator: " = ", comment: "#" }',
    open: ['# a file'],
    close: [],
    key: (name) => name,
    line: (name, text) => `${name} = ${text}`,
    reads: /^(\w+) = (.*)$/,
  },
  ini: {
    open: ['[s]'],
    close: [],
    key: (name) => `[s] ${name}`,
    line: (name, text, other) => `${name}${other ? ' = ' : '='}${text}`,
    reads: /^(\w+) ?= ?(.*)$/,
  },
  properties: {
    open: ['# a file'],
    close: [],
    key: (name) => name,
    line: (name, text, other) => `${name}${other ? ': ' : '='}${text}`,
    reads: /^(\w+) ?[=:] ?(.*)$/,
  },
  toml: {
    open: ['# a file'],
    close: [],
    key: (name) => name,
    line: (name, text, other) => (other ? `${name} = '${text}'` : `${name} = "${text}"`),
    reads: /^(\w+) = ["']?(.*?)["']?$/,
  },
  yaml: {
    open: ['# a file'],
    close: [],
    key: (name) => name,
    line: (name, text, other) => (other ? `${name}: '${text}'` : `${name}: "${text}"`),
    reads: /^(\w+): ["']?(.*?)["']?$/,
  },
  json: {
    open: ['{'],
    close: ['}'],
    key: (name) => `/${name}`,
    line: (name, text, other) => `  "${name}":${other ? '' : ' '}"${text}",`,
    reads: /^ *"(\w+)": ?"?(.*?)"?,?$/,
  },
  xml: {
    open: ['<r>'],
    close: ['</r>'],
    key: (name) => `/r/${name}`,
    line: (name, text) => `  <${name}>${text}</${name}>`,
    reads: /^ *<(\w+)>(.*)<\/\w+>$/,
  },
  lines: {
    style: '{ separator: "," }',
    open: ['# a file'],
    close: [],
    key: (name) => name,
    line: (name, text) => `${name},${text}`,
    reads: /^(\w+),(.*)$/,
  },
} as const satisfies Readonly<Record<string, Printer>>;

export type SyntaxOfScenario = keyof typeof printers;

export interface Entry {
  readonly name: string;
  readonly text: string;
  readonly other: boolean;
}

export function printFile(syntax: SyntaxOfScenario, entries: readonly Entry[]): string {
  const printer: Printer = printers[syntax];
  const lines = entries.map(({ name, text, other }) => printer.line(name, text, other));
  const all = [...printer.open, ...lines, ...printer.close];
  const text = `${all.join('\n')}\n`;
  return syntax === 'json' ? text.replace(/,\n\}/, '\n}') : text;
}

/** Each line with the key that is in it, if one is. A comma of JSON is no part of it, since a neighbour brings one. */
export function readLines(
  syntax: SyntaxOfScenario,
  text: string,
): readonly { readonly line: string; readonly name: string | undefined; readonly text: string }[] {
  const printer: Printer = printers[syntax];
  return text.split('\n').map((line) => {
    const found = printer.reads.exec(line);
    return { line: syntax === 'json' ? line.replace(/,$/, '') : line, name: found?.[1], text: found?.[2] ?? '' };
  });
}
