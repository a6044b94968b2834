/** A file's kind is its first key. */
export const fileKinds = ['profile', 'house', 'dialect', 'catalog'] as const;

export type FileKind = (typeof fileKinds)[number];

/** The first key of a YAML text, or undefined when there is none; comments, directives and a mark of the document's start are passed over. */
export function firstKey(text: string): string | undefined {
  for (const line of text.split(/\r\n|\n|\r/)) {
    const bare = line.replace(/^\ufeff/, '');
    if (/^\s*(#|%|---|$)/.test(bare)) continue;
    return /^["']?([^\s"':#]+)["']?\s*:/.exec(bare)?.[1];
  }
  return undefined;
}

/** The kind, or undefined when the first key is none of the four. */
export function kindOf(text: string): FileKind | undefined {
  const key = firstKey(text);
  return fileKinds.find((kind) => kind === key);
}
