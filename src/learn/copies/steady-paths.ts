import type { Tree } from '../../syntax/contract.ts';

/** A step of a path that says the how-manieth of its siblings it is: `/settings/option[2]`. */
const numbered = /\[\d+\]$/;

/** `@name` or `name`, whose text tells an element from its siblings. */
interface Teller {
  readonly kind: '@' | '';
  readonly name: string;
}

/**
 * Keys of an XML file by what their elements are called, not by where they stand: programs write their settings in another
 * order as they like. A repeated element is told by the first of its attributes, else of its children, that each of its
 * siblings has with a text of its own. Gives each key its path; undefined where the key is itself what tells an element
 * from the others. A key that nothing tells keeps its number.
 */
export function steadyPaths(tree: Tree): ReadonlyMap<string, string | undefined> {
  const keys = tree.keys().map(({ path }) => path);
  const siblings = new Map<string, Map<string, Map<string, string>>>();
  for (const key of keys)
    for (const { element, base, rest } of numberedSteps(key)) {
      const inner = /^\/(@?[^/[\]]+)$/.exec(rest)?.[1];
      const group = siblings.get(base) ?? new Map<string, Map<string, string>>();
      siblings.set(base, group);
      const own = group.get(element) ?? new Map<string, string>();
      group.set(element, own);
      const held = inner === undefined ? undefined : tree.get(key);
      if (inner !== undefined && held?.kind === 'scalar') own.set(inner, held.text);
    }
  const tellers = new Map([...siblings].map(([base, group]) => [base, tellerOf([...group.values()])] as const));
  return new Map(keys.map((key) => [key, steady(key, siblings, tellers)] as const));
}

/** Each numbered step of a path: the element with its number and without, and what stands behind it. */
function numberedSteps(key: string): readonly { element: string; base: string; rest: string }[] {
  return [...key.matchAll(/\[\d+\]/g)].map(({ 0: mark, index }) => {
    const element = key.slice(0, index + mark.length);
    return { element, base: element.replace(numbered, ''), rest: key.slice(element.length) };
  });
}

function tellerOf(elements: readonly ReadonlyMap<string, string>[]): Teller | undefined {
  const names = [...(elements[0]?.keys() ?? [])];
  const ordered = [...names.filter((name) => name.startsWith('@')), ...names.filter((name) => !name.startsWith('@'))];
  const found = ordered.find((name) => {
    const texts = elements.map((element) => element.get(name));
    return texts.every((text) => text !== undefined && /^[^'"]+$/.test(text)) && new Set(texts).size === texts.length;
  });
  if (found === undefined) return undefined;
  return found.startsWith('@') ? { kind: '@', name: found.slice(1) } : { kind: '', name: found };
}

function steady(
  key: string,
  siblings: ReadonlyMap<string, ReadonlyMap<string, ReadonlyMap<string, string>>>,
  tellers: ReadonlyMap<string, Teller | undefined>,
): string | undefined {
  let path = '';
  let from = 0;
  for (const { element, base, rest } of numberedSteps(key)) {
    const teller = tellers.get(base);
    const inner = teller === undefined ? '' : `${teller.kind}${teller.name}`;
    const text = siblings.get(base)?.get(element)?.get(inner);
    path += key.slice(from, base.length);
    path += teller === undefined || text === undefined ? element.slice(base.length) : `[${inner}='${text}']`;
    from = element.length;
    if (teller !== undefined && rest === `/${inner}`) return undefined;
  }
  return path + key.slice(from);
}
