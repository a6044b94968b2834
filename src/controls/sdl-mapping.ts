/** Where a mapping takes an output from: `b0`, `a2`, `+a2`, `a2~`, `h0.1`. */
export type MappingSource =
  | { readonly kind: 'button'; readonly button: number }
  | { readonly kind: 'axis'; readonly axis: number; readonly half: '+' | '-' | undefined; readonly inverted: boolean }
  /** `mask`: 1 up, 2 right, 4 down, 8 left, may be summed. */
  | { readonly kind: 'hat'; readonly hat: number; readonly mask: number };

export type MappingField =
  /** `half`: of an axis output. */
  | {
      readonly kind: 'binding';
      readonly output: string;
      readonly half: '+' | '-' | undefined;
      readonly source: MappingSource;
    }
  /** `platform:Linux`, `crc:1234`, `hint:…`, and what no release understands, which it passes over silently. */
  | { readonly kind: 'other'; readonly text: string };

/** One line of SDL's controller mappings: `GUID,name,` and fields, each followed by a comma. */
export interface MappingLine {
  readonly guid: string;
  readonly name: string;
  readonly fields: readonly MappingField[];
  /** Whether the last field has its comma; a file's line is only taken with `platform:Linux,`, comma and all. */
  readonly closed: boolean;
}

/** Takes a mapping line apart; undefined when it has no name (the two commas are all that SDL itself asks for). */
export function parseMapping(text: string): MappingLine | undefined {
  const [guid = '', name, ...rest] = text.split(',');
  if (name === undefined || rest.length === 0) return undefined;
  const closed = rest.at(-1) === '';
  return { guid, name, closed, fields: (closed ? rest.slice(0, -1) : rest).map(parseField) };
}

function parseField(text: string): MappingField {
  const [, half, output = '', written = ''] = /^([+-]?)([A-Za-z0-9]+):([^:]*)$/.exec(text) ?? [];
  const source = parseSource(written);
  const longest = Math.max(output.length + (half === undefined ? 0 : half.length), written.length);
  // A field of 20 characters or more ends SDL's parsing, so that it is no binding.
  if (source === undefined || output === '' || output === 'platform' || output === 'crc' || longest >= 20)
    return { kind: 'other', text };
  return { kind: 'binding', output, half: half === '+' || half === '-' ? half : undefined, source };
}

function parseSource(text: string): MappingSource | undefined {
  const whole = '0|[1-9][0-9]*';
  const button = new RegExp(`^b(${whole})$`).exec(text);
  if (button !== null) return { kind: 'button', button: Number(button[1]) };
  const axis = new RegExp(`^([+-]?)a(${whole})(~?)$`).exec(text);
  if (axis !== null)
    return {
      kind: 'axis',
      axis: Number(axis[2]),
      half: axis[1] === '+' || axis[1] === '-' ? axis[1] : undefined,
      inverted: axis[3] === '~',
    };
  const hat = new RegExp(`^h([0-9])\\.(${whole})$`).exec(text);
  return hat === null ? undefined : { kind: 'hat', hat: Number(hat[1]), mask: Number(hat[2]) };
}

export function printMapping({ guid, name, fields, closed }: MappingLine): string {
  const printed = fields.map((field) =>
    field.kind === 'other' ? field.text : `${field.half ?? ''}${field.output}:${printSource(field.source)}`,
  );
  return [guid, name, ...printed].join(',') + (closed ? ',' : '');
}

function printSource(source: MappingSource): string {
  switch (source.kind) {
    case 'button':
      return `b${source.button}`;
    case 'axis':
      return `${source.half ?? ''}a${source.axis}${source.inverted ? '~' : ''}`;
    case 'hat':
      return `h${source.hat}.${source.mask}`;
  }
}
