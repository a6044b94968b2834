import type fc from 'fast-check';
import { choices } from './choices.ts';
import type { Choices } from './choices.ts';

const names = [
  'a',
  'b',
  'c',
  'key',
  'x-y',
  'z_1',
  '12',
  '"odd key"',
  "'lit'",
  '"é.b"',
  '"__proto__"',
  '""',
  'true',
] as const;

class TomlBuilder {
  readonly #choose: Choices;
  readonly #eol: string;
  #comments = 0;

  constructor(choose: Choices) {
    this.#choose = choose;
    this.#eol = choose.of('\n', '\n', '\r\n');
  }

  #comment(): string {
    this.#comments += 1;
    return `# note ${this.#comments}!`;
  }

  #scalar(): string {
    const choose = this.#choose;
    return choose.of(
      '1',
      '0x1F',
      '1_000',
      '-0.5e3',
      'true',
      'false',
      'inf',
      '-nan',
      '0o17',
      '0b11',
      '6.0',
      '1979-05-27T07:32:00Z',
      '1979-05-27 07:32:00.5-07:00',
      '1979-05-27',
      '07:32:00',
      '"text"',
      '""',
      "''",
      '"1"',
      '"es\\"c\\u00e9 # no"',
      "'C:\\x # no'",
      '"\ud83d\ude00"',
      `"""${this.#eol}two${this.#eol}lines"" """`,
      "'''it''s'''",
      '"""a\\\n   b"""',
    );
  }

  #list(): string {
    const choose = this.#choose;
    const items = Array.from({ length: choose.below(4) }, () => (choose.rarely(8) ? this.#inline(1) : this.#scalar()));
    if (choose.rarely(3)) {
      const lines = items.map((item, k) => {
        const comma = k < items.length - 1 || choose.rarely(2) ? ',' : '';
        return `  ${item}${comma}${choose.rarely(3) ? ` ${this.#comment()}` : ''}${this.#eol}`;
      });
      return `[${this.#eol}${lines.join('')}]`;
    }
    const pad = choose.of('', ' ');
    return `[${pad}${items.join(choose.of(', ', ','))}${items.length > 0 && choose.rarely(4) ? ',' : ''}${pad}]`;
  }

  #inline(depth: number): string {
    const choose = this.#choose;
    const used = new Set<string>();
    const parts = Array.from({ length: choose.below(3) }, () => this.#name(used))
      .filter((name) => name !== undefined)
      .map((name) => `${name}${choose.of(' = ', '=')}${this.#value(depth - 1)}`);
    const pad = choose.of(' ', '');
    return parts.length === 0 ? choose.of('{}', '{ }') : `{${pad}${parts.join(choose.of(', ', ','))}${pad}}`;
  }

  #value(depth: number): string {
    const choose = this.#choose;
    const kind = choose.below(10);
    if (kind < 6 || depth <= 0) return this.#scalar();
    if (kind < 8) return this.#list();
    return kind === 8 ? this.#inline(depth) : `[${this.#list()}, ${this.#list()}]`;
  }

  /** A name that this table has not, or undefined. */
  #name(used: Set<string>): string | undefined {
    const name = this.#choose.of(...names);
    const plain = name.replace(/^['"]|['"]$/g, '');
    if (used.has(plain)) return undefined;
    used.add(plain);
    return name;
  }

  #pairs(used: Set<string>, count: number): string {
    const choose = this.#choose;
    let lines = '';
    for (let k = 0; k < count; k++) {
      if (choose.rarely(7)) lines += this.#eol;
      if (choose.rarely(7)) lines += this.#comment() + this.#eol;
      const name = this.#name(used);
      if (name === undefined) continue;
      const indent = choose.of('', '', '', '  ');
      const note = choose.rarely(5) ? ` ${this.#comment()}` : '';
      if (choose.rarely(6)) {
        const inner = new Set<string>();
        for (let n = choose.below(2) + 1; n > 0; n--) {
          const second = this.#name(inner);
          if (second !== undefined)
            lines += `${indent}${name}${choose.of('.', ' . ')}${second} = ${this.#value(1)}${this.#eol}`;
        }
      } else lines += `${indent}${name}${choose.of(' = ', '=', '  =  ')}${this.#value(2)}${note}${this.#eol}`;
    }
    return lines;
  }

  #sections(prefix: string, used: Set<string>, depth: number, count: number): string {
    const choose = this.#choose;
    let lines = '';
    for (let k = 0; k < count; k++) {
      const name = this.#name(used);
      if (name === undefined) continue;
      const array = choose.rarely(3);
      for (let n = array ? choose.below(3) + 1 : 1; n > 0; n--) {
        lines += choose.of(this.#eol, this.#eol, '', this.#eol + this.#eol);
        if (choose.rarely(5)) lines += this.#comment() + this.#eol;
        const inner = new Set<string>();
        const header = prefix + name;
        // A table may exist only through the tables in it.
        const implied = !array && depth > 0 && choose.rarely(6);
        if (!implied)
          lines += `${array ? `[[${header}]]` : `[${header}]`}${choose.rarely(5) ? ` ${this.#comment()}` : ''}${this.#eol}`;
        if (!implied) lines += this.#pairs(inner, choose.below(4));
        if (depth > 0) lines += this.#sections(`${header}.`, inner, depth - 1, implied ? 1 : choose.below(3));
      }
    }
    return lines;
  }

  text(): string {
    const choose = this.#choose;
    const used = new Set<string>();
    let text = choose.rarely(8) ? '\ufeff' : '';
    if (choose.rarely(4)) text += this.#comment() + this.#eol + choose.of(this.#eol, '');
    text += this.#pairs(used, choose.below(5));
    text += this.#sections('', used, 2, choose.below(4));
    if (choose.rarely(5)) text += this.#comment() + this.#eol;
    if (choose.rarely(5)) text += this.#eol;
    return choose.rarely(4) && text.endsWith(this.#eol) ? text.slice(0, -this.#eol.length) : text;
  }
}

/** A valid TOML 1.0 text in any layout, with comments that are all different (`# note 1!`). */
export function tomlText(): fc.Arbitrary<string> {
  return choices(120).map((choose) => new TomlBuilder(choose).text());
}
