/** A file's kind is its first key. */
export const fileKinds = ['profile', 'house', 'dialect', 'catalog'] as const;

export type FileKind = (typeof fileKinds)[number];

/**
 * The first key of a YAML text, in block style or in flow style (as JSON is), or undefined when there is none; comments,
 * directives and a mark of the document's start are passed over.
 */
export function firstKey(text: string): string | undefined {
  let inFlow = false;
  for (const line of text.split(/\r\n|\n|\r/)) {
    const bare = line.replace(/^\ufeff/, '');
    if (/^\s*(#|%|---|$)/.test(bare)) continue;
    // A lone brace: the key is on a later line, however far in.
    if (/^\s*\{\s*$/.test(bare)) {
      inFlow = true;
      continue;
    }
    const start = inFlow ? bare.trimStart() : bare.replace(/^\s*\{\s*/, '');
    return /^["']?([^\s"':#]+)["']?\s*:/.exec(start)?.[1];
  }
  return undefined;
}

/** The kind, or undefined when the first key is none of the four. */
export function kindOf(text: string): FileKind | undefined {
  const key = firstKey(text);
  return fileKinds.find((kind) => kind === key);
}
