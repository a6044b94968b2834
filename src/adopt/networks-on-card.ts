import type { Lens, ValueLookup } from '../dialect/contract.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { Instance } from '../model/resolved.ts';
import type { Value } from '../model/value.ts';
import type { CardText } from './card-text.ts';
import type { CardNetwork } from './difference.ts';
import type { LensWith, UnreadFile } from './read-card.ts';

type Networks = Extract<Value, { readonly kind: 'networks' }>;

export interface NetworksInput {
  readonly instance: Instance;
  readonly lensWith: LensWith;
  readonly card: CardText;
  /** The profile's; undefined where it sets none. */
  readonly profile: Networks | undefined;
  /** What the other settings in the files say. */
  readonly values: ValueLookup;
  /** Also networks of which the profile knows nothing. */
  readonly all: boolean;
  /** Whether a file was written by us. */
  readonly owned: (path: CardPath) => boolean;
}

export interface NetworksRead {
  /** Those of the profile in its order, then the card's own; undefined where no file is of one network alone. */
  readonly networks: readonly CardNetwork[] | undefined;
  readonly unread: readonly UnreadFile[];
}

/** Of at least the length that a Wi-Fi password has; private-use characters stand in no file. */
const marks = ['\uf8f0\uf8f1\uf8f2\uf8f3', '\uf8f4\uf8f5\uf8f6\uf8f7'] as const;
const nameMark = 'zq0name0qz';
const uuid = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/;
const derivedKey = /[0-9a-f]{64}/;

/**
 * The Wi-Fi networks of a card, out of files that are made whole, one for each. Only a file that is exactly what its
 * template makes of a network is taken; what is left is told, since a password cannot be told from a key made of it.
 */
export function networksOnCard(input: NetworksInput): NetworksRead {
  const { card, profile, all, owned } = input;
  const unread: UnreadFile[] = [];
  const made = (network: Named, secret: string): readonly { file: string; path: CardPath; text: string }[] =>
    wholesOf(input, network, secret);
  const alone = new Set(
    Object.entries(input.instance.dialect.data.files).flatMap(([id, file]) =>
      file.each === 'network.networks' ? [id] : [],
    ),
  );
  const shape = made({ name: nameMark, hidden: false, secured: false }, marks[0]).filter(({ file }) => alone.has(file));
  unread.push(...togetherUnread(input, alone));
  const [first] = shape;
  if (first === undefined) return { networks: undefined, unread };
  const read = (name: string): CardNetwork | 'absent' | UnreadFile => {
    const [own] = made({ name, hidden: false, secured: false }, marks[0]).filter(({ file }) => file === first.file);
    const held = own === undefined ? undefined : card.look(own.path, '');
    if (own === undefined || held?.kind !== 'scalar') return 'absent';
    return (
      readOne(
        name,
        held.text,
        (network, secret) => made(network, secret).find(({ file }) => file === first.file)?.text,
      ) ?? notRead(own.path)
    );
  };
  const networks: CardNetwork[] = [];
  for (const { name, hidden, password } of profile?.networks ?? []) {
    const found = read(name);
    const secret = password === undefined ? {} : { secret: password };
    if (found === 'absent') {
      const [own] = made({ name, hidden, secured: password !== undefined }, marks[0]);
      if (own === undefined || !owned(own.path)) networks.push({ name, hidden, ...secret });
    } else if ('path' in found) {
      unread.push(found);
      networks.push({ name, hidden, ...secret });
    } else networks.push({ ...found, ...secret });
  }
  if (!all) return { networks, unread };
  const known = new Set(networks.map(({ name }) => name));
  for (const path of filesLike(first.path, card)) {
    const held = card.look(path, '');
    const text = held?.kind === 'scalar' ? held.text : '';
    const names = namesIn(first, path, text);
    const name = names.find((one) =>
      made({ name: one, hidden: false, secured: false }, marks[0]).some((own) => own.path === path),
    );
    if (name !== undefined && known.has(name)) continue;
    const found = name === undefined ? notRead(path) : read(name);
    if (found === 'absent') continue;
    if ('path' in found) unread.push(found);
    else {
      known.add(found.name);
      networks.push(found);
    }
  }
  return { networks, unread };
}

interface Named {
  readonly name: string;
  readonly hidden: boolean;
  readonly secured: boolean;
}

/** What the files made whole would hold for one network; `secret`: the text of its password. */
function wholesOf(
  { instance, lensWith, values }: NetworksInput,
  { name, hidden, secured }: Named,
  secret: string,
): readonly { file: string; path: CardPath; text: string }[] {
  const lens: Lens | undefined = lensWith(instance, { secretValue: () => secret });
  const network = { name, hidden, ...(secured ? { password: 'any' } : {}) };
  const value: Networks = { kind: 'networks', networks: [network] };
  return (
    lens
      ?.wholeFiles((id) => (id === 'network.networks' ? value : values(id)), {})
      .flatMap(({ file, made }) => (made.kind === 'text' ? [{ file, path: made.path, text: made.text }] : [])) ?? []
  );
}

/** A network as its file tells it; undefined where the file is not one that the template makes. */
function readOne(
  name: string,
  held: string,
  render: (network: Named, secret: string) => string | undefined,
): CardNetwork | UnreadFile | undefined {
  for (const hidden of [false, true]) {
    if (render({ name, hidden, secured: false }, marks[0]) === held) return { name, hidden };
    const network = { name, hidden, secured: true };
    const [before = '', after] = render(network, marks[0])?.split(marks[0]) ?? [];
    if (after === undefined || !held.startsWith(before) || !held.endsWith(after)) continue;
    const written = held.slice(before.length, held.length - after.length);
    const text = [written, keyfileText(written)].find((one) => one !== '' && render(network, one) === held);
    if (text !== undefined) return { name, hidden, text };
  }
  return undefined;
}

/** A value of a key file as it is read: the way back of `escapeForKeyfile`. */
function keyfileText(written: string): string {
  const marks: Readonly<Record<string, string>> = { s: ' ', n: '\n', t: '\t', r: '\r', '\\': '\\' };
  return written.replace(/\\([sntr\\])/g, (all, mark: string) => marks[mark] ?? all);
}

function notRead(path: CardPath): UnreadFile {
  return {
    path,
    why: 'it holds something else than the profile can say of a network',
    wayOut: 'Name the network under network: networks: in the profile, and write again: the file is then made anew.',
  };
}

/** Files that hold all networks at once, where they are not as the profile makes them. */
function togetherUnread(input: NetworksInput, alone: ReadonlySet<string>): readonly UnreadFile[] {
  const { card } = input;
  const [a, b] = marks.map((mark) => wholesOf(input, { name: nameMark, hidden: false, secured: true }, mark));
  return (a ?? []).flatMap(({ file, path, text }): readonly UnreadFile[] => {
    const held = card.look(path, '');
    if (alone.has(file) || held?.kind !== 'scalar' || !text.includes(nameMark)) return [];
    const profile = input.profile ?? { kind: 'networks', networks: [] };
    const lens = input.lensWith(input.instance, {});
    const own = lens?.wholeFiles((id) => (id === 'network.networks' ? profile : input.values(id)), {});
    if (own?.some(({ made }) => made.kind === 'text' && made.path === path && made.text === held.text) === true)
      return [];
    const other = b?.find((one) => one.path === path)?.text;
    const derived = derivedKey.test(text) && text !== other && derivedKey.test(held.text);
    return [
      {
        path,
        why: derived
          ? 'it holds keys that were made from passwords, and no password can be told from one'
          : 'it holds all networks at once, and not as the profile makes them',
        wayOut: derived
          ? 'Leave it; to have its networks in the profile, name them under network: networks: and give each password as a secret.'
          : 'Name its networks under network: networks: in the profile, and write again: the file is then made anew.',
      },
    ];
  });
}

/** The files of a folder whose names are as one made for a network. */
function filesLike(path: CardPath, card: CardText): readonly CardPath[] {
  const cut = path.lastIndexOf('/');
  const folder = cardPath(path.slice(0, cut));
  if (folder === undefined) return [];
  const name = path.slice(cut + 1);
  const by = name.includes(nameMark) ? nameMark : uuid.exec(name)?.[0];
  const [before = '', after, more] = by === undefined ? [] : name.split(by);
  if (after === undefined || more !== undefined) return [];
  return card
    .below(folder)
    .filter((file) => file.length > before.length + after.length && file.startsWith(before) && file.endsWith(after))
    .flatMap((file) => cardPath(`${folder}/${file}`) ?? []);
}

/** What may be the name of the network that a file is of: by its own name, and by lines that hold a name. */
function namesIn(
  shape: { readonly path: CardPath; readonly text: string },
  path: CardPath,
  text: string,
): readonly string[] {
  const names: string[] = [];
  const take = (pattern: string, held: string): void => {
    const [before = '', after, more] = pattern.split(nameMark);
    if (after === undefined || more !== undefined) return;
    if (held.length > before.length + after.length && held.startsWith(before) && held.endsWith(after)) {
      const name = held.slice(before.length, held.length - after.length);
      names.push(name, keyfileText(name));
    }
  };
  take(shape.path, path);
  for (const line of shape.text.split('\n').filter((one) => one.includes(nameMark)))
    for (const held of text.split('\n')) take(line, held);
  return [...new Set(names)];
}
