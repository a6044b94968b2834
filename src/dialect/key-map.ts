import type { Path } from '../model/document.ts';
import type { KeyWritten } from '../vocabulary/shapes/dialect.ts';

const manners = ['held', 'toggled', 'press'] as const;
const forms = ['button', 'axis', 'hat'] as const;

/** One key of an entry, and when it is used. */
export interface KeyEntry {
  /** The `while` of a hotkey; undefined: any. */
  readonly manner: (typeof manners)[number] | undefined;
  /** The slot of the codec; undefined: any. */
  readonly slot: string | undefined;
  readonly text: string;
  readonly path: Path;
}

/** A key map as a list, or what is wrong with it (clauses). `while` is outside, kind inside. */
export function readKeyMap(
  written: KeyWritten,
  path: Path,
): { readonly keys: readonly KeyEntry[]; readonly faults: readonly string[] } {
  const keys: KeyEntry[] = [];
  const faults: string[] = [];
  const isManner = (name: string): name is (typeof manners)[number] => manners.some((manner) => manner === name);
  const isForm = (name: string): boolean => forms.some((form) => form === name);

  const walk = (at: KeyWritten, manner: KeyEntry['manner'], slot: string | undefined, here: Path): void => {
    if (typeof at === 'string') {
      keys.push({ manner, slot, text: at, path: here });
      return;
    }
    const names = Object.keys(at);
    const kinds = new Set(names.map((name) => (isManner(name) ? 'while' : isForm(name) ? 'kind' : 'other')));
    if (kinds.size > 1)
      faults.push('a key map chooses by one thing: by while (held, toggled, press) or by kind (button, axis, hat)');
    if (names.length === 0) faults.push('the key map is empty');
    for (const [name, inner] of Object.entries(at)) {
      if (isManner(name)) {
        if (manner !== undefined || slot !== undefined)
          faults.push(`${name} stands inside: while is outside, kind inside`);
        else walk(inner, name, slot, [...here, name]);
      } else if (isForm(name)) {
        if (slot !== undefined) faults.push(`${name} stands inside another kind`);
        else walk(inner, manner, name, [...here, name]);
      } else {
        faults.push(`${JSON.stringify(name)} is no choice of a key map`);
      }
    }
  };
  walk(written, undefined, undefined, path);
  return { keys, faults: [...new Set(faults)] };
}
