import { settings } from '../../vocabulary/registry.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { wordsOf } from './lexicon.ts';
import type { Word } from './lexicon.ts';
import { fillers, prepositions } from './synonyms.ts';

/** One way of the trade to call a setting. */
export interface Phrase {
  readonly text: string;
  /** What must be said, each with how much it tells. */
  readonly terms: readonly { readonly concepts: ReadonlySet<string>; readonly tells: number; readonly stem: string }[];
  /** It says the contrary of the setting. */
  readonly contrary: boolean;
}

export interface Called {
  readonly setting: SettingDefinition;
  readonly phrases: readonly Phrase[];
  /** Every concept of any of its phrases: said besides, they do not speak against it. */
  readonly concepts: ReadonlySet<string>;
}

/** Kinds of values that one key's text cannot tell: they are learnt as records or not at all. */
const untold: ReadonlySet<string> = new Set(['networks', 'cores', 'options', 'lists']);

function termsOf(text: string): readonly Word[] {
  const words = wordsOf(text).filter(({ concepts }) => concepts.size > 0);
  const telling = words.filter(({ text: word }) => !fillers.has(word));
  const small = telling.length === 1 ? words.filter(({ text: word }) => prepositions.has(word)) : [];
  return [...telling, ...small];
}

function textsOf({ words, contraries = [] }: SettingDefinition): readonly {
  readonly text: string;
  readonly contrary: boolean;
  readonly terms: readonly Word[];
}[] {
  return [
    ...words.map((text) => ({ text, contrary: false })),
    ...contraries.map((text) => ({ text, contrary: true })),
  ].map((one) => ({ ...one, terms: termsOf(one.text) }));
}

const raw = settings
  .filter(({ type }) => !untold.has(type.kind) && !(type.kind === 'texts' && type.of === 'game'))
  .map((setting) => ({ setting, texts: textsOf(setting) }));

/** In how many settings each concept stands. */
const spread: ReadonlyMap<string, number> = (() => {
  const found = new Map<string, number>();
  for (const { texts } of raw) {
    const own = new Set(texts.flatMap(({ terms }) => terms.flatMap(({ concepts }) => [...concepts])));
    for (const concept of own) found.set(concept, (found.get(concept) ?? 0) + 1);
  }
  return found;
})();

const known = new WeakMap<ReadonlySet<string>, number>();

/**
 * How much a word tells: the logarithm of how few settings share it (Spärck Jones 1972, 'A statistical interpretation of
 * term specificity'), of the rarest of its concepts. Nobody's word tells as much as one setting's.
 */
export function tells(concepts: ReadonlySet<string>): number {
  let told = known.get(concepts);
  if (told === undefined) {
    const fewest = Math.min(...[...concepts].map((concept) => spread.get(concept) ?? 1), raw.length);
    known.set(concepts, (told = Math.log((raw.length + 1) / (concepts.size === 0 ? 1.5 : fewest))));
  }
  return told;
}

function calledOf(setting: SettingDefinition, texts: (typeof raw)[number]['texts']): Called {
  return {
    setting,
    phrases: texts
      .filter(({ terms }) => terms.length > 0)
      .map(({ text, contrary, terms }) => ({
        text,
        contrary,
        terms: terms.map(({ text: word, stem, concepts }) => ({
          stem,
          concepts,
          tells: prepositions.has(word) ? 1.2 : tells(concepts),
        })),
      })),
    concepts: new Set(texts.flatMap(({ terms }) => terms.flatMap(({ concepts }) => [...concepts]))),
  };
}

/** How every setting is called. */
const calledBy: readonly Called[] = raw.map(({ setting, texts }) => calledOf(setting, texts));

const calls = new WeakMap<SettingDefinition, Called>(calledBy.map((called) => [called.setting, called]));

/** How a setting is called, one of the registry or one made for the purpose (a word of a set). */
export function calledAs(setting: SettingDefinition): Called {
  let called = calls.get(setting);
  if (called === undefined) calls.set(setting, (called = calledOf(setting, textsOf(setting))));
  return called;
}

/** Settings by concept, so that a key is held only against those it shares a word with. */
export const byConcept: ReadonlyMap<string, readonly Called[]> = (() => {
  const found = new Map<string, Called[]>();
  for (const called of calledBy)
    for (const concept of called.concepts) {
      const known = found.get(concept);
      if (known === undefined) found.set(concept, [called]);
      else known.push(called);
    }
  return found;
})();
