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

interface Placed {
  readonly word: Word;
  readonly weight: number;
  readonly own: boolean;
}

/** A key's name made ready to be held against many phrases: its words by concept, those of most weight first. */
export interface ReadyName {
  readonly name: KeyName;
  readonly byConcept: ReadonlyMap<string, readonly Placed[]>;
}

export function readyName(name: KeyName): ReadyName {
  const byConcept = new Map<string, Placed[]>();
  for (const place of ['own', 'above', 'comment', 'heading'] as const)
    for (const word of name[place]) {
      const placed = { word, weight: places[place] * word.certainty, own: place === 'own' };
      for (const concept of word.concepts) {
        const known = byConcept.get(concept);
        if (known === undefined) byConcept.set(concept, [placed]);
        else known.push(placed);
      }
    }
  return { name, byConcept };
}

function best(
  { stem, concepts }: Phrase['terms'][number],
  { byConcept }: ReadyName,
  used: readonly Word[],
): { readonly word: Word; readonly weight: number; readonly own: boolean } | undefined {
  let found: { word: Word; weight: number; own: boolean } | undefined;
  for (const concept of concepts)
    for (const { word, weight: place, own } of byConcept.get(concept) ?? []) {
      const weight = place * (word.stem === stem ? 1 : 0.95);
      if ((found === undefined || weight > found.weight) && !used.includes(word)) found = { word, weight, own };
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

/** `least`: what is no better is not looked at to the end. */
function matchPhrase(
  phrase: Phrase,
  ready: ReadyName,
  called: Called,
  { weightless }: Options,
  least: number,
): NameMatch | undefined {
  const { name } = ready;
  let wanted = 0;
  let said = 0;
  let saidByOwn = 0;
  const by: Word[] = [];
  for (const term of phrase.terms) {
    wanted += term.tells;
    const found = best(term, ready, by);
    if (found === undefined) {
      // `REWIND_KB` says the size of it without the word.
      if (name.unit !== undefined && byUnit(term, name, called)) said += term.tells * 0.8;
      continue;
    }
    said += term.tells * found.weight;
    if (found.own) saidByOwn += term.tells * found.weight;
    by.push(found.word);
  }
  if (by.length === 0) return undefined;
  const specific = 1 + 0.05 * Math.min(2, by.length - 1);
  const most = (said / wanted) * (saidByOwn === 0 ? 0.3 : 1) * specific;
  if (most <= least) return undefined;
  let excess = 0;
  let turned = phrase.contrary;
  for (const word of name.own) {
    if (by.includes(word)) continue;
    const negates = negators.has(word.text);
    if (negates) turned = !turned;
    if (negates || fillers.has(word.text) || weightless(word)) continue;
    // Said twice, or said by another phrase of the same setting: no word against it.
    const kin = [...word.concepts].some((concept) => called.concepts.has(concept));
    const again = phrase.terms.some((term) => shares(word, term.concepts));
    const weight = again ? 0.1 : isBeside(word) ? 2.5 : kin ? 0.35 : word.concepts.size === 0 ? 0.75 : 0.8;
    excess += weight * tells(word.concepts) * (name.byComment ? 0.35 : 1);
  }
  const group = stem(called.setting.id.split('.')[0] ?? '');
  for (const word of name.above) {
    if (by.includes(word) || fillers.has(word.text)) continue;
    if (isBeside(word)) excess += 0.8 * tells(word.concepts);
    else if (
      word.concepts.size > 0 &&
      word.stem !== group &&
      ![...word.concepts].some((concept) => called.concepts.has(concept))
    )
      excess += 0.08 * tells(word.concepts);
  }
  return { score: most * (said / (said + excess)), phrase, turned, by };
}

/** The phrase of the setting that the key's name says best; undefined where it says none better than `least`. */
export function matchName(called: Called, ready: ReadyName, options: Options, least = 0): NameMatch | undefined {
  let found: NameMatch | undefined;
  for (const phrase of called.phrases) {
    // Among equals the first says more.
    const match = matchPhrase(phrase, ready, called, options, found?.score ?? least);
    if (match !== undefined && (found === undefined || match.score > found.score + 1e-9)) found = match;
  }
  return found;
}
