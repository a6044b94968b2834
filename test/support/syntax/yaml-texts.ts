import type fc from 'fast-check';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';

const names = [
  'a',
  'b',
  'c',
  'key',
  'x-y',
  '"odd key"',
  "'lit'",
  '"é.b"',
  '"__proto__"',
  'two words',
  '12',
  'true',
] as const;

class YamlBuilder {
  readonly #choose: Choices;
  readonly #eol: string;
  #comments = 0;
  #anchors = 0;
  readonly #scalarAnchors: string[] = [];
  readonly #step: number;
  readonly #dashStep: number;

  constructor(choose: Choices) {
    this.#choose = choose;
    this.#eol = choose.of('\n', '\n', '\r\n');
    this.#step = choose.of(2, 2, 4, 1);
    this.#dashStep = choose.of(2, 0, 4);
  }

  #comment(): string {
    this.#comments += 1;
    return `# note ${this.#comments}!`;
  }

  #plain(): string {
    return this.#choose.of(
      'text',
      'two words',
      '1',
      '0x1F',
      '-0.5e3',
      'true',
      'null',
      '~',
      '.inf',
      '0o17',
      '6.0',
      'on',
      '12:30',
      '2001-01-01',
      '"text"',
      '""',
      "''",
      '"1"',
      '"es\\"c\\u00e9 # no"',
      "'C:\\x # it''s'",
      '"\ud83d\ude00"',
      'http://x/y#z',
      'a:b',
    );
  }

  #flowScalar(): string {
    const text = this.#plain();
    return text === 'http://x/y#z' || text === 'a:b' || text === '12:30' ? `"${text}"` : text;
  }

  #flow(depth: number): string {
    const choose = this.#choose;
    const pad = choose.of(' ', '');
    if (choose.rarely(2)) {
      const used = new Set<string>();
      const parts = Array.from({ length: choose.below(4) }, () => this.#name(used))
        .filter((name) => name !== undefined)
        .map((name) => (choose.rarely(8) ? name : `${name}: ${this.#flowValue(depth)}`));
      return parts.length === 0
        ? choose.of('{}', '{ }')
        : `{${pad}${parts.join(', ')}${choose.rarely(6) ? ',' : ''}${pad}}`;
    }
    const parts = Array.from({ length: choose.below(4) }, () => (choose.rarely(9) ? 'p: q' : this.#flowValue(depth)));
    return `[${pad}${parts.join(choose.of(', ', ','))}${parts.length > 0 && choose.rarely(5) ? ',' : ''}${pad}]`;
  }

  #flowLines(indent: string): string {
    const choose = this.#choose;
    const parts = Array.from({ length: choose.below(3) + 1 }, () => this.#flowScalar());
    const lines = parts.map((part, k) => {
      const comma = k < parts.length - 1 || choose.rarely(2) ? ',' : '';
      return `${indent}${part}${comma}${choose.rarely(3) ? ` ${this.#comment()}` : ''}${this.#eol}`;
    });
    return `[${this.#eol}${lines.join('')}${indent}]`;
  }

  #flowValue(depth: number): string {
    return depth > 0 && this.#choose.rarely(4) ? this.#flow(depth - 1) : this.#flowScalar();
  }

  #name(used: Set<string>): string | undefined {
    const name = this.#choose.of(...names);
    const plain = name.replace(/^['"]|['"]$/g, '');
    if (used.has(plain)) return undefined;
    used.add(plain);
    return name;
  }

  #blockScalar(indent: string): string {
    const choose = this.#choose;
    const header = choose.of('|', '>', '|-', '>-', '|+', '|2').replace('2', String(this.#step));
    const note = choose.rarely(5) ? ` ${this.#comment()}` : '';
    const pad = indent + ' '.repeat(this.#step);
    const lines = Array.from(
      { length: choose.below(3) + 1 },
      () => pad + choose.of('line', 'other # no', '  deeper', 'a: b'),
    );
    if (!header.includes(String(this.#step))) lines[0] = `${pad}first`;
    return `${header}${note}${this.#eol}${lines.join(this.#eol)}${this.#eol}${choose.rarely(4) ? this.#eol : ''}`;
  }

  /** What stands after `key:` or `-`, from its blank to its line end. `column`: of the key or dash. */
  #rest(column: number, depth: number, inItem: boolean): string {
    const choose = this.#choose;
    const indent = ' '.repeat(column);
    const note = choose.rarely(5) ? ` ${this.#comment()}` : '';
    const kind = choose.below(12);
    if (kind === 0) return note + this.#eol;
    if (kind === 1) return ` ${this.#flow(1)}${note}${this.#eol}`;
    if (kind === 2) return ` ${this.#flowLines(`${indent} `)}${note}${this.#eol}`;
    if (kind === 3) return ` ${this.#blockScalar(indent)}`;
    if (kind === 4 && this.#scalarAnchors.length > 0) {
      return ` *${this.#scalarAnchors[choose.below(this.#scalarAnchors.length)] ?? ''}${note}${this.#eol}`;
    }
    if (kind === 5) {
      this.#anchors += 1;
      const anchor = `n${this.#anchors}`;
      const text = ` &${anchor} ${this.#plain()}${note}${this.#eol}`;
      this.#scalarAnchors.push(anchor);
      return text;
    }
    if (kind === 6) return ` ${choose.of('!!str', '!own')} ${choose.of('12', 'word', '"q"')}${note}${this.#eol}`;
    if (kind >= 7 && kind <= 9 && depth > 0) {
      const map = choose.rarely(2);
      if (inItem && choose.below(3) > 0) {
        const inner = column + 2;
        const text = map ? this.#map(inner, depth - 1, true) : this.#seq(inner, depth - 1, true);
        if (text !== '') return ` ${text}`;
      } else {
        const inner = map ? column + this.#step : column + (inItem ? 2 : this.#dashStep);
        const text = map ? this.#map(inner, depth - 1, false) : this.#seq(inner, depth - 1, false);
        if (text !== '') return note + this.#eol + text;
      }
    }
    return ` ${this.#plain()}${note}${this.#eol}`;
  }

  #map(column: number, depth: number, startsInLine: boolean): string {
    const choose = this.#choose;
    const used = new Set<string>();
    let text = '';
    for (let k = choose.below(3) + 1; k > 0; k--) {
      const name = this.#name(used);
      if (name === undefined) continue;
      const first = text === '' && startsInLine;
      if (!first && choose.rarely(8)) text += this.#eol;
      if (!first && choose.rarely(8)) text += ' '.repeat(column) + this.#comment() + this.#eol;
      const indent = text === '' && startsInLine ? '' : ' '.repeat(column);
      text += `${indent}${name}${choose.of(':', ':', ':', ' :')}${this.#rest(column, depth, false)}`;
    }
    return text;
  }

  #seq(column: number, depth: number, startsInLine: boolean): string {
    const choose = this.#choose;
    let text = '';
    const scalars = choose.rarely(2);
    for (let k = choose.below(3) + 1; k > 0; k--) {
      const first = text === '' && startsInLine;
      if (!first && choose.rarely(8)) text += ' '.repeat(column) + this.#comment() + this.#eol;
      const indent = text === '' && startsInLine ? '' : ' '.repeat(column);
      const note = choose.rarely(5) ? ` ${this.#comment()}` : '';
      text += scalars
        ? `${indent}- ${this.#plain()}${note}${this.#eol}`
        : `${indent}-${this.#rest(column, depth, true)}`;
    }
    return text;
  }

  text(): string {
    const choose = this.#choose;
    let text = choose.rarely(10) ? '\ufeff' : '';
    if (choose.rarely(4)) text += this.#comment() + this.#eol + choose.of(this.#eol, '');
    if (choose.rarely(8)) text += `---${this.#eol}`;
    const kind = choose.below(8);
    text +=
      kind === 0
        ? this.#seq(0, 3, false)
        : kind === 1
          ? this.#flow(2) + this.#eol
          : kind === 2
            ? ''
            : this.#map(0, 3, false);
    if (choose.rarely(5)) text += this.#comment() + this.#eol;
    if (choose.rarely(5)) text += this.#eol;
    // Without its last line end, a block scalar there means different things to different readers.
    const open = choose.rarely(4) && /[a-z0-9"'\]}]\r?\n$/.test(text) && !/[|>]/.test(text);
    return open ? text.slice(0, -this.#eol.length) : text;
  }
}

/** A valid YAML 1.2 text of one document in any layout, with comments that are all different (`# note 1!`). */
export function yamlText(): fc.Arbitrary<string> {
  return choices(160).map((choose) => new YamlBuilder(choose).text());
}
