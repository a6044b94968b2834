import type { KeyName } from './key-name.ts';
import { isBeside } from './key-name.ts';
import type { Word } from './lexicon.ts';
import type { Called, Phrase } from './phrases.ts';
import { stem } from './lexicon.ts';
import { tells } from './phrases.ts';
import { fillers, negators } from './synonyms.ts';

/** How well a key's name says a setting. */
export interface NameMatch {
  /** 0 to 1: the share of the phrase that is said, times the share of the key that the phrase accounts for. */
  readonly score: number;
  readonly phrase: Phrase;
  /** The key says the contrary of the setting. */
  readonly turned: boolean;
  /** Words of the key that say the phrase. */
  readonly by: readonly Word[];
}

/** How much a word counts by where it is said. */
const places = { own: 1, above: 0.85, comment: 0.6, heading: 0.45 } as const;

function shares(word: Word, concepts: ReadonlySet<string>): boolean {
  for (const concept of word.concepts) if (concepts.has(concept)) return true;
  return false;
}

interface Options {
  /** Words of no weight for this kind of setting: `button` of a bind. */
  readonly weightless: (word: Word) => boolean;
}

function best(
  term: Phrase['terms'][number],
  name: KeyName,
  used: ReadonlySet<Word>,
): { readonly word: Word; readonly weight: number } | undefined {
  let found: { word: Word; weight: number } | undefined;
  for (const place of ['own', 'above', 'comment', 'heading'] as const) {
    for (const word of name[place]) {
      const weight = places[place] * word.certainty * (stem(word.text) === stem(term.text) ? 1 : 0.95);
      if (!used.has(word) && (found === undefined || weight > found.weight) && shares(word, term.concepts))
        found = { word, weight };
    }
  }
  return found;
}

/** What a unit says by itself, by its measure. */
const unitSays: Readonly<Record<string, readonly string[]>> = {
  size: ['memory', 'size', 'buffer'],
  time: ['interval', 'length', 'clock', 'latency'],
  percent: ['strength', 'brightness'],
};

function byUnit(term: Phrase['terms'][number], { unit }: KeyName, { setting: { type } }: Called): boolean {
  if (unit === undefined || type.kind !== 'quantity' || type.measure !== unit.measure) return false;
  return (unitSays[unit.measure] ?? []).some((concept) => term.concepts.has(concept));
}

function matchPhrase(phrase: Phrase, name: KeyName, called: Called, { weightless }: Options): NameMatch | undefined {
  let wanted = 0;
  let said = 0;
  let saidByOwn = 0;
  const by: Word[] = [];
  const used = new Set<Word>();
  for (const term of phrase.terms) {
    wanted += term.tells;
    const found = best(term, name, used);
    if (found === undefined) {
      // `REWIND_KB` says the size of it without the word.
      if (byUnit(term, name, called)) said += term.tells * 0.8;
      continue;
    }
    used.add(found.word);
    said += term.tells * found.weight;
    if (name.own.includes(found.word)) saidByOwn += term.tells * found.weight;
    by.push(found.word);
  }
  if (by.length === 0) return undefined;
  let excess = 0;
  let turned = phrase.contrary;
  for (const word of name.own) {
    if (used.has(word)) continue;
    const negates = negators.has(word.text);
    if (negates) turned = !turned;
    if (negates || fillers.has(word.text) || weightless(word)) continue;
    // Said twice, or said by another phrase of the same setting: no word against it.
    const kin = [...word.concepts].some((concept) => called.concepts.has(concept));
    const again = phrase.terms.some((term) => shares(word, term.concepts));
    const weight = again ? 0.1 : isBeside(word) ? 2.5 : kin ? 0.35 : word.concepts.size === 0 ? 0.75 : 0.8;
    excess += weight * tells(word.concepts) * (name.byComment ? 0.35 : 1);
  }
  const group = called.setting.id.split('.')[0] ?? '';
  for (const word of name.above) {
    if (used.has(word) || fillers.has(word.text)) continue;
    if (isBeside(word)) excess += 0.8 * tells(word.concepts);
    else if (
      word.concepts.size > 0 &&
      stem(word.text) !== stem(group) &&
      ![...word.concepts].some((concept) => called.concepts.has(concept))
    )
      excess += 0.08 * tells(word.concepts);
  }
  const specific = 1 + 0.05 * Math.min(2, by.length - 1);
  const score = (said / wanted) * (said / (said + excess)) * (saidByOwn === 0 ? 0.3 : 1) * specific;
  return { score, phrase, turned, by };
}

/** The phrase of the setting that the key's name says best; undefined where it shares no word with any. */
export function matchName(called: Called, name: KeyName, options: Options): NameMatch | undefined {
  let found: NameMatch | undefined;
  for (const phrase of called.phrases) {
    const match = matchPhrase(phrase, name, called, options);
    // Among equals the longer phrase says more.
    if (match !== undefined && (found === undefined || match.score > found.score + 1e-9)) found = match;
  }
  return found;
}
