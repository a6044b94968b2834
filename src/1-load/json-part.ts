/** What stands in the way of reading a document of ours: `where` is the member, in words. */
export class BadShape extends Error {}

/** One value of a JSON document, with the members that lead to it. Every reading throws `BadShape` where it does not fit. */
export class JsonPart {
  private readonly value: unknown;
  private readonly where: string;

  constructor(value: unknown, where: string) {
    this.value = value;
    this.where = where;
  }

  fail(why: string): never {
    throw new BadShape(`${this.where} ${why}`);
  }

  get there(): boolean {
    return this.value !== undefined;
  }

  /** As it is, for a check of another kind. */
  get data(): unknown {
    return this.value;
  }

  text(): string {
    return typeof this.value === 'string' ? this.value : this.fail('is no text');
  }

  whole(): number {
    return typeof this.value === 'number' && Number.isSafeInteger(this.value) && this.value >= 0
      ? this.value
      : this.fail('is no whole number');
  }

  flag(): boolean {
    return typeof this.value === 'boolean' ? this.value : this.fail('is neither true nor false');
  }

  word<Word extends string>(...words: readonly Word[]): Word {
    const text = this.text();
    return words.find((word) => word === text) ?? this.fail(`is none of ${words.join(', ')}`);
  }

  items(): readonly JsonPart[] {
    if (!Array.isArray(this.value)) return this.fail('is no list');
    return this.value.map((item: unknown, index) => new JsonPart(item, `${this.where}[${index}]`));
  }

  /** A map that stands as pairs. */
  pairs(): readonly (readonly [string, JsonPart])[] {
    return this.items().map((pair) => {
      const [name, member, ...more] = pair.items();
      if (name === undefined || member === undefined || more.length > 0) return pair.fail('is no pair');
      return [name.text(), member] as const;
    });
  }

  /** Members by name; others than those known are refused. */
  members(...known: readonly string[]): (name: string) => JsonPart {
    const { value } = this;
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return this.fail('is no object');
    const all = new Map<string, unknown>(Object.entries(value));
    for (const name of all.keys()) if (!known.includes(name)) this.fail(`has a member that is not known: ${name}`);
    return (name) => new JsonPart(all.get(name), `${this.where}.${name}`);
  }

  /** Undefined where it is not there. */
  optional<T>(read: (part: JsonPart) => T): T | undefined {
    return this.there ? read(this) : undefined;
  }
}
