import type { Tree } from '../../syntax/contract.ts';

/** `@name` or `name`, whose text tells an element from its siblings. */
type Teller = string;

/** Elements of one name side by side: by element, the texts of its attributes and children. */
type Siblings = ReadonlyMap<string, ReadonlyMap<string, string>>;

/** Siblings by the path of their parent with theirs, numbers in it: `/settings/option`. */
type ByPlace = ReadonlyMap<string, Siblings>;

const number = /\[\d+\]/g;

/**
 * Keys of an XML file by what their elements are called, not by where they stand: programs write their settings in another
 * order as they like. A repeated element is told by one of its attributes, else of its children, that each of its siblings
 * has with a text of its own, in every copy: of several by the one whose texts stay through the copies, since names do and
 * values do not. Gives, for each copy, each key its path; undefined where the key is itself what tells an element from the
 * others. A key that nothing tells keeps its number. `told`: what tells elements of a name in other files of the frontend.
 */
export function steadyPaths(
  trees: readonly Tree[],
  told: ReadonlyMap<string, Teller> = new Map(),
): readonly ReadonlyMap<string, string | undefined>[] {
  const copies = trees.map((tree) => {
    const keys = tree.keys().map(({ path }) => path);
    return { keys, places: siblingsOf(tree, keys) };
  });
  const tellers = tellersOf(
    copies.map(({ places }) => places),
    told,
  );
  return copies.map(({ keys, places }) => new Map(keys.map((key) => [key, steady(key, places, tellers)] as const)));
}

/** What tells the elements of each name in a file, through its copies. */
export function tellersByName(trees: readonly Tree[]): ReadonlyMap<string, Teller> {
  const tellers = tellersOf(
    trees.map((tree) =>
      siblingsOf(
        tree,
        tree.keys().map(({ path }) => path),
      ),
    ),
    new Map(),
  );
  return new Map([...tellers].map(([bare, teller]) => [nameOf(bare), teller]));
}

/** Every element that a path leads through: its parent's path with its name, and its own. */
function elements(key: string): readonly { readonly place: string; readonly element: string }[] {
  const found: { place: string; element: string }[] = [];
  for (let end = key.indexOf('/', 1); ; end = key.indexOf('/', end + 1)) {
    const element = end < 0 ? key : key.slice(0, end);
    if (!/\/@[^/]*$/.test(element)) found.push({ place: element.replace(/\[\d+\]$/, ''), element });
    if (end < 0) return found;
  }
}

function siblingsOf(tree: Tree, keys: readonly string[]): ByPlace {
  const found = new Map<string, Map<string, Map<string, string>>>();
  for (const key of keys)
    for (const { place, element } of elements(key)) {
      const group = found.get(place) ?? new Map<string, Map<string, string>>();
      found.set(place, group);
      const own = group.get(element) ?? new Map<string, string>();
      group.set(element, own);
      const inner = key.slice(element.length + 1);
      const held = /^@?[^/[\]]+$/.test(inner) ? tree.get(key) : undefined;
      if (held?.kind === 'scalar') own.set(inner, held.text);
    }
  return found;
}

/**
 * What tells the elements of each place, wherever its parents stand: `/a/b`, numbers left out. Only for elements that are
 * ever repeated.
 */
function tellersOf(copies: readonly ByPlace[], told: ReadonlyMap<string, Teller>): ReadonlyMap<string, Teller> {
  const groups = new Map<string, (readonly Siblings[])[]>();
  for (const copy of copies) {
    const here = new Map<string, Siblings[]>();
    for (const [place, siblings] of copy) {
      const bare = place.replace(number, '');
      here.set(bare, [...(here.get(bare) ?? []), siblings]);
    }
    for (const [bare, all] of here) groups.set(bare, [...(groups.get(bare) ?? []), all]);
  }
  const found = new Map<string, Teller>();
  const single: (readonly [string, readonly (readonly Siblings[])[]])[] = [];
  for (const [bare, all] of groups) {
    const teller = all.flat().some((siblings) => siblings.size > 1) ? bestTeller(all) : undefined;
    if (teller !== undefined) found.set(bare, teller);
    else if (all.flat().every((siblings) => siblings.size < 2)) single.push([bare, all]);
  }
  // What tells elements of a name in one place tells them where one stands alone, as others may come beside it.
  const byName = new Map([...told, ...[...found].map(([bare, teller]) => [nameOf(bare), teller] as const)]);
  for (const [bare, all] of single) {
    const teller = byName.get(nameOf(bare));
    const has = all.flat().every((siblings) => [...siblings.values()].every((own) => isName(own.get(teller ?? ''))));
    if (teller !== undefined && has) found.set(bare, teller);
  }
  return found;
}

function nameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** `copies`: the groups of siblings of one place in each copy. */
function bestTeller(copies: readonly (readonly Siblings[])[]): Teller | undefined {
  const names = new Set(copies.flat().flatMap((group) => [...group.values()].flatMap((own) => [...own.keys()])));
  let best: { readonly name: string; readonly rank: number } | undefined;
  for (const name of names) {
    const byCopy = copies.map((groups) => groups.map((group) => [...group.values()].map((own) => own.get(name))));
    const tells = byCopy.flat().every((texts) => texts.every(isName) && new Set(texts).size === texts.length);
    if (!tells) continue;
    const texts = byCopy.map((groups) => new Set(groups.flat()));
    const stay = new Set(texts.flatMap((own) => [...own])).size === Math.max(...texts.map(({ size }) => size));
    // Texts that come and go are values; words name things sooner than numbers do, and attributes than children.
    const wordy = byCopy.flat(2).every((text) => /^[\p{L}_]\S*$/u.test(text ?? ''));
    const rank = (stay ? 4 : 0) + (name.startsWith('@') ? 2 : 0) + (wordy ? 1 : 0);
    if (best === undefined || rank > best.rank) best = { name, rank };
  }
  return best?.name;
}

/** A text that a path can hold. */
function isName(text: string | undefined): boolean {
  return text !== undefined && /^[^'"]+$/.test(text);
}

function steady(key: string, places: ByPlace, tellers: ReadonlyMap<string, Teller>): string | undefined {
  let path = '';
  let from = 0;
  for (const { place, element } of elements(key)) {
    const teller = tellers.get(place.replace(number, ''));
    const text = teller === undefined ? undefined : places.get(place)?.get(element)?.get(teller);
    path += key.slice(from, place.length);
    path += text === undefined ? element.slice(place.length) : `[${teller ?? ''}='${text}']`;
    from = element.length;
    if (text !== undefined && key.slice(from) === `/${teller ?? ''}`) return undefined;
  }
  return path + key.slice(from);
}
