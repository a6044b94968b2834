import type { KeyWrite, Lens } from '../dialect/contract.ts';
import type { Value } from '../model/value.ts';
import type { KeyText } from '../model/compiled.ts';
import type { OwnedPlace } from './owned-keys.ts';

type Texts = Extract<Value, { readonly kind: 'texts' }>;

/**
 * What a list of records is to say, where what we last wrote is known: the profile's list, without what a hand took from
 * the card since, and with what a hand marked there. What the profile alone changed since stays changed.
 */
export function listByHand(
  lens: Lens,
  place: { readonly setting: string; readonly item?: string },
  { profile, card, owned }: { readonly profile: Texts; readonly card: Texts; readonly owned: OwnedPlace | undefined },
): Texts {
  const { setting, item } = place;
  const written = new Set(
    (owned?.keys ?? []).flatMap(({ path, recorded }) =>
      recorded.record !== undefined && recorded.written.kind === 'text'
        ? [nameOf({ path, record: recorded.record }, recorded.written.value)]
        : [],
    ),
  );
  const names = new Map<string, string>();
  const name = (text: string): string => {
    const known = names.get(text);
    if (known !== undefined) return known;
    const spelled = lens.spell(setting, { kind: 'texts', texts: [text] }, {}, item);
    const [write] = spelled.kind === 'cannot' ? [] : spelled.writes;
    const made = write?.value === undefined ? text : nameOf(write, write.value);
    names.set(text, made);
    return made;
  };
  const onCard = new Set(card.texts.map(name));
  const inProfile = new Set(profile.texts.map(name));
  return {
    kind: 'texts',
    texts: [
      ...profile.texts.filter((text) => onCard.has(name(text)) || !written.has(name(text))),
      ...card.texts.filter((text) => !inProfile.has(name(text)) && !written.has(name(text))),
    ],
  };
}

/** Whether two lists name the same, in whatever order: records keep their own. */
export function sameTexts(a: Texts, b: Texts): boolean {
  return JSON.stringify([...a.texts].sort()) === JSON.stringify([...b.texts].sort());
}

function nameOf({ path, record }: Pick<KeyWrite, 'path' | 'record'>, on: KeyText): string {
  const texts = on.kind === 'scalar' ? [on.text] : on.items.map(({ text }) => text);
  return JSON.stringify([path, record?.at, record?.by, record?.is, record?.field, texts]);
}
