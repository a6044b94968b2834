import { XmlMistake } from './xml-mistake.ts';
import { isPredefined, isXmlCodePoint, nameCharacters, nameSource } from './xml-characters.ts';

/** `unparsed`: one that names a file of another format, and may stand in no text. */
export type EntityKind = 'internal' | 'external' | 'unparsed';

export interface Doctype {
  readonly end: number;
  /** The general entities that the internal subset declares. They are never expanded. */
  readonly entities: ReadonlyMap<string, EntityKind>;
  /** Whether entities may be declared where we do not look: in outside files or by parameter entities. */
  readonly elsewhere: boolean;
}

/** Reads a document type declaration (XML 1.0 productions 28 to 83), outside files never opened. */
export function readDoctype(text: string, start: number): Doctype {
  return new DoctypeReader(text, start).read();
}

const blanks = /[ \t\r\n]+/y;
const name = new RegExp(nameSource, 'uy');
const nmtoken = new RegExp(`[${nameCharacters}]+`, 'uy');
const publicId = /"[ \r\na-zA-Z0-9\-'()+,./:=?;!*#@$_%]*"|'[ \r\na-zA-Z0-9\-()+,./:=?;!*#@$_%]*'/y;
const attributeType = /(?:CDATA|IDREFS?|ID|ENTITY|ENTITIES|NMTOKENS?)(?=[ \t\r\n])/y;
const reference = new RegExp(`&(?:#x([0-9a-fA-F]+);|#([0-9]+);|(${nameSource});|)`, 'gu');

class DoctypeReader {
  readonly #text: string;
  readonly #start: number;
  readonly #entities = new Map<string, EntityKind>();
  #elsewhere = false;
  #at: number;

  constructor(text: string, start: number) {
    this.#text = text;
    this.#start = start;
    this.#at = start + 9;
  }

  read(): Doctype {
    this.#blank();
    this.#match(name, 'the name of the root element');
    if (this.#skip() && /[SP]/.test(this.#text[this.#at] ?? '')) {
      this.#externalId();
      this.#elsewhere = true;
      this.#skip();
    }
    if (this.#take('[')) {
      this.#subset();
      this.#skip();
    }
    this.#expect('>');
    return { end: this.#at, entities: this.#entities, elsewhere: this.#elsewhere };
  }

  #fail(what: string, at = this.#at): never {
    const left = at >= this.#text.length;
    throw new XmlMistake(
      left ? 'the document type is not closed' : `in the document type ${what}`,
      left ? this.#start : at,
      left ? this.#start + 9 : at + 1,
    );
  }

  #skip(): boolean {
    blanks.lastIndex = this.#at;
    const found = blanks.exec(this.#text)?.[0].length ?? 0;
    this.#at += found;
    return found > 0;
  }

  #blank(): void {
    if (!this.#skip()) this.#fail('a blank is due here');
  }

  #take(text: string): boolean {
    if (!this.#text.startsWith(text, this.#at)) return false;
    this.#at += text.length;
    return true;
  }

  #expect(text: string): void {
    if (!this.#take(text)) this.#fail(`'${text}' is due here`);
  }

  #match(pattern: RegExp, what: string): string {
    pattern.lastIndex = this.#at;
    const found = pattern.exec(this.#text)?.[0];
    if (found === undefined) this.#fail(`${what} is due here`);
    this.#at += found.length;
    return found;
  }

  /** What stands in quotes. */
  #quoted(what: string): string {
    const quote = this.#text[this.#at];
    if (quote !== '"' && quote !== "'") this.#fail(`${what} in quotes is due here`);
    const end = this.#text.indexOf(quote, this.#at + 1);
    if (end < 0) this.#fail(`${what} is not closed`);
    const raw = this.#text.slice(this.#at + 1, end);
    this.#at = end + 1;
    return raw;
  }

  #externalId(publicOnly = false): void {
    if (this.#take('SYSTEM')) {
      this.#blank();
      this.#quoted('a system identifier');
      return;
    }
    if (!this.#take('PUBLIC')) this.#fail('SYSTEM or PUBLIC is due here');
    this.#blank();
    this.#match(publicId, 'a public identifier');
    const blank = this.#skip();
    if (publicOnly && !(blank && /["']/.test(this.#text[this.#at] ?? ''))) return;
    if (!blank) this.#fail('a blank is due here');
    this.#quoted('a system identifier');
  }

  #subset(): void {
    for (;;) {
      this.#skip();
      if (this.#take(']')) return;
      if (this.#take('%')) {
        this.#match(name, 'the name of a parameter entity');
        this.#expect(';');
        this.#elsewhere = true;
      } else if (this.#take('<!--')) {
        const dashes = this.#text.indexOf('--', this.#at);
        if (dashes < 0) this.#fail('a comment is not closed');
        this.#at = dashes + 2;
        this.#expect('>');
      } else if (this.#take('<?')) this.#instruction();
      else {
        if (this.#take('<!ELEMENT')) this.#element();
        else if (this.#take('<!ATTLIST')) this.#attributes();
        else if (this.#take('<!ENTITY')) this.#entity();
        else if (this.#take('<!NOTATION')) this.#notation();
        else this.#fail('a declaration is due here');
        this.#skip();
        this.#expect('>');
      }
    }
  }

  #instruction(): void {
    const target = this.#match(name, 'the name of a processing instruction');
    if (target.toLowerCase() === 'xml') this.#fail('no XML declaration may stand', this.#at - target.length);
    if (this.#take('?>')) return;
    this.#blank();
    const end = this.#text.indexOf('?>', this.#at);
    if (end < 0) this.#fail('a processing instruction is not closed');
    this.#at = end + 2;
  }

  #element(): void {
    this.#blank();
    this.#match(name, 'the name of an element');
    this.#blank();
    if (this.#take('EMPTY') || this.#take('ANY')) return;
    this.#expect('(');
    this.#skip();
    if (this.#take('#PCDATA')) {
      this.#skip();
      let names = 0;
      for (; this.#take('|'); names++) {
        this.#skip();
        this.#match(name, 'the name of an element');
        this.#skip();
      }
      this.#expect(')');
      if (names > 0) this.#expect('*');
      else this.#take('*');
      return;
    }
    // Groups in groups, each with one kind of separator.
    const open: (string | undefined)[] = [undefined];
    while (open.length > 0) {
      this.#skip();
      if (this.#take('(')) {
        open.push(undefined);
        continue;
      }
      this.#match(name, 'the name of an element');
      this.#times();
      for (;;) {
        this.#skip();
        const separator = this.#text[this.#at];
        if (separator === ')') {
          this.#at += 1;
          open.pop();
          this.#times();
          if (open.length === 0) break;
          continue;
        }
        const before = open.at(-1);
        if ((separator !== '|' && separator !== ',') || (before !== undefined && before !== separator))
          this.#fail("'|', ',' or ')' is due here");
        open[open.length - 1] = separator;
        this.#at += 1;
        break;
      }
    }
  }

  #times(): void {
    if (/[?*+]/.test(this.#text[this.#at] ?? '')) this.#at += 1;
  }

  #attributes(): void {
    this.#blank();
    this.#match(name, 'the name of an element');
    while (this.#skip() && this.#text[this.#at] !== '>') {
      this.#match(name, 'the name of an attribute');
      this.#blank();
      this.#type();
      this.#blank();
      if (this.#take('#REQUIRED') || this.#take('#IMPLIED')) continue;
      if (this.#take('#FIXED')) this.#blank();
      const at = this.#at + 1;
      const raw = this.#quoted('a default value');
      if (raw.includes('<')) this.#fail("'<' may not stand in a default value", at);
      this.#references(raw, at, true);
    }
  }

  #type(): void {
    attributeType.lastIndex = this.#at;
    const found = attributeType.exec(this.#text)?.[0];
    if (found !== undefined) {
      this.#at += found.length;
      return;
    }
    const notation = this.#take('NOTATION');
    if (notation) this.#blank();
    this.#expect('(');
    do {
      this.#skip();
      this.#match(notation ? name : nmtoken, 'a name');
      this.#skip();
    } while (this.#take('|'));
    this.#expect(')');
  }

  #entity(): void {
    this.#blank();
    const parameter = this.#take('%');
    if (parameter) this.#blank();
    const id = this.#match(name, 'the name of an entity');
    this.#blank();
    let kind: EntityKind = 'internal';
    if (/["']/.test(this.#text[this.#at] ?? '')) {
      const at = this.#at + 1;
      const raw = this.#quoted("an entity's value");
      const percent = raw.indexOf('%');
      if (percent >= 0) this.#fail("'%' may not stand in an entity's value", at + percent);
      this.#references(raw, at);
    } else {
      this.#externalId();
      kind = 'external';
      const before = this.#at;
      if (!parameter && this.#skip() && this.#take('NDATA')) {
        this.#blank();
        this.#match(name, 'the name of a notation');
        kind = 'unparsed';
      } else this.#at = before;
    }
    // The first declaration of a name counts (section 4.2).
    if (!parameter && !this.#entities.has(id)) this.#entities.set(id, kind);
  }

  #notation(): void {
    this.#blank();
    this.#match(name, 'the name of a notation');
    this.#blank();
    this.#externalId(true);
  }

  #references(raw: string, start: number, inDefault = false): void {
    for (const found of raw.matchAll(reference)) {
      const [all, hex, decimal, entity] = found;
      const point = hex === undefined ? Number.parseInt(decimal ?? '32', 10) : Number.parseInt(hex, 16);
      if (all === '&' || !isXmlCodePoint(point)) this.#fail('a reference is malformed', start + found.index);
      if (!inDefault || entity === undefined || isPredefined(entity)) continue;
      const kind = this.#entities.get(entity);
      if (kind === undefined ? !this.#elsewhere : kind !== 'internal') {
        this.#fail(
          'a default value names an entity that is not declared before it, or an outside file',
          start + found.index,
        );
      }
    }
  }
}
