import type { KeyText } from '../model/compiled.ts';
import { secretPlaceholder } from '../model/secret-placeholder.ts';

/** The text of a secret by its name; undefined where it is not at hand. */
export type FindSecret = (name: string) => string | undefined;

/** A value with the texts of the secrets that it names; undefined where one of them is not at hand. */
export function spellOut(value: KeyText, names: readonly string[], find: FindSecret): KeyText | undefined {
  if (names.length === 0) return value;
  const texts = new Map<string, string>();
  for (const name of names) {
    const text = find(name);
    if (text === undefined) return undefined;
    texts.set(secretPlaceholder(name), text);
  }
  // In one pass, so that a secret that looks like the name of another is left as it is.
  const put = (text: string): string => text.replace(/<secret:[^<>]+>/g, (found) => texts.get(found) ?? found);
  return value.kind === 'scalar'
    ? { ...value, text: put(value.text) }
    : { kind: 'list', items: value.items.map((item) => ({ ...item, text: put(item.text) })) };
}
