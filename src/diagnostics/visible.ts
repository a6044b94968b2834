const named: Readonly<Record<string, string>> = { '\n': '\\n', '\r': '\\r', '\t': '\\t', '\x1b': '\\e', '\0': '\\0' };

/**
 * Control characters, lone surrogates and the characters that turn the direction of text (Unicode Standard Annex 9)
 * made visible, so that a name from a file can neither move the cursor nor pretend to be another name.
 */
export function visible(text: string, options: { readonly keepLines?: boolean } = {}): string {
  return text.replace(
    /[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g,
    (character) => {
      if (options.keepLines === true && character === '\n') return character;
      const unit = character.charCodeAt(0);
      if (unit >= 0xdc80 && unit <= 0xdcff) return `\\x${(unit - 0xdc00).toString(16)}`;
      return (
        named[character] ??
        (unit < 0x100 ? `\\x${unit.toString(16).padStart(2, '0')}` : `\\u${unit.toString(16).padStart(4, '0')}`)
      );
    },
  );
}
