import { settings } from '../../vocabulary/registry.ts';
import { foreignWords } from './foreign-words.ts';
import { nameWords } from './name-words.ts';
import { joinedWords, shortenings, synonyms } from './synonyms.ts';

/** What one written word may mean, and how far that is to be trusted. */
export interface Reading {
  /** Concepts: each a word that stands for its synonyms. Empty: nobody's word. */
  readonly concepts: ReadonlySet<string>;
  /** 0 to 1: a word of the trade 1, a guessed shortening less. */
  readonly certainty: number;
  /** The word of the trade that a shortening or foreign word was read as. */
  readonly as?: string;
}

/** A written word, and what it may mean. */
export interface Word extends Reading {
  readonly text: string;
  readonly stem: string;
}

/** Plural and verb endings off, as far as a look at the ending tells (after Porter 1980, step 1, and no further). */
export function stem(word: string): string {
  if (word.length <= 3) return word;
  if (/(ss|us|is)$/.test(word)) return word;
  if (/ies$/.test(word)) return `${word.slice(0, -3)}y`;
  if (/(ch|sh|x|ss)es$/.test(word)) return word.slice(0, -2);
  return word.endsWith('s') ? word.slice(0, -1) : word;
}

const conceptsOfStem: ReadonlyMap<string, ReadonlySet<string>> = (() => {
  const found = new Map<string, Set<string>>();
  const add = (word: string, concept: string): void => {
    const known = found.get(word);
    if (known === undefined) found.set(word, new Set([concept]));
    else known.add(concept);
  };
  for (const row of synonyms) {
    const [concept = ''] = row;
    for (const word of row) if (!word.includes(' ')) add(stem(word), concept);
  }
  const words = settings.flatMap(({ id, words: said }) => [id, ...said]).flatMap(nameWords);
  for (const word of words) if (word.length > 1 && !found.has(stem(word))) add(stem(word), stem(word));
  return found;
})();

/** Pairs and triples of words that are read as one. */
const joins: ReadonlyMap<string, readonly string[]> = new Map(
  Object.entries(joinedWords).map(([words, one]) => [words.split(' ').map(stem).join(' '), one.split(' ')]),
);

const shorts: ReadonlyMap<string, string> = new Map(Object.entries(shortenings));

const readings = new Map<string, readonly Word[]>();
/** Longest word that is taken apart: more is a text or a hash. */
const longest = 40;

const unread: Reading = { concepts: new Set<string>(), certainty: 1 };

function wordOf(text: string, reading: Reading): Word {
  return { text, stem: stem(text), ...reading };
}

function conceptOf(word: string): Reading {
  return { concepts: conceptsOfStem.get(stem(word)) ?? new Set([word]), certainty: 1 };
}

function known(word: string): Reading | undefined {
  const concepts = conceptsOfStem.get(stem(word));
  if (concepts !== undefined) return { concepts, certainty: 1 };
  const english = foreignWords.get(word) ?? foreignWords.get(stem(word));
  if (english !== undefined)
    return { concepts: conceptsOfStem.get(stem(english)) ?? new Set([english]), certainty: 0.95, as: english };
  return undefined;
}

function shortened(word: string): Reading | undefined {
  const long = shorts.get(word);
  return long === undefined
    ? undefined
    : { concepts: conceptsOfStem.get(stem(long)) ?? new Set([long]), certainty: 0.9, as: long };
}

/**
 * A compound taken apart: into the fewest words that are known, shortenings counting for more. Dynamic programming over the
 * ends of words, as in word segmentation by dictionary. Undefined: some part is no word.
 */
function apart(word: string): readonly Word[] | undefined {
  if (word.length < 4 || word.length > longest) return undefined;
  const best: ({ readonly cost: number; readonly words: readonly Word[] } | undefined)[] = [{ cost: 0, words: [] }];
  for (let end = 1; end <= word.length; end++) {
    for (let start = Math.max(0, end - 16); start < end; start++) {
      const before = best[start];
      if (before === undefined) continue;
      const text = word.slice(start, end);
      const whole = text.length >= 3 || text === 'ff' || text === 'rw' ? known(text) : undefined;
      const short = text.length >= 2 ? shortened(text) : undefined;
      const reading = whole ?? short ?? (linking.has(text) ? unread : undefined);
      if (reading === undefined) continue;
      const cost = before.cost + (whole !== undefined ? 1 : short !== undefined ? 2.2 : 1.2);
      const kept = best[end];
      if (kept === undefined || cost < kept.cost) best[end] = { cost, words: [...before.words, wordOf(text, reading)] };
    }
  }
  const found = best[word.length];
  if (found === undefined || found.words.length < 2 || found.cost > word.length * 0.75) return undefined;
  return found.words;
}
const linking: ReadonlySet<string> = new Set([
  'on',
  'at',
  'of',
  'in',
  'to',
  'no',
  'is',
  'by',
  'enable',
  'enabled',
  'mode',
  'key',
  'with',
  'when',
  'show',
  'ms',
  'sec',
  'count',
]);

/** Consonants of a word after its first letter, in order: 'slow' is 'slw'. */
function skeleton(word: string): string {
  return word.slice(0, 1) + word.slice(1).replace(/[aeiou]/g, '');
}

/** A word of the trade of which this is the beginning or the consonants: the shorter the trade's word, the likelier. */
function guessed(word: string): Reading | undefined {
  if (word.length < 3 || word.length > 6 || !/^[a-z]+$/.test(word)) return undefined;
  const concepts = new Set<string>();
  let as: string | undefined;
  for (const [long, found] of conceptsOfStem) {
    if (long.length <= word.length) continue;
    if (!long.startsWith(word) && skeleton(long) !== word) continue;
    if (long.startsWith(word) && long.length - word.length > 7) continue;
    as ??= long;
    for (const concept of found) concepts.add(concept);
  }
  return as === undefined || concepts.size > 4 ? undefined : { concepts, certainty: 0.75, as };
}

function read(word: string): readonly Word[] {
  const kept = readings.get(word);
  if (kept !== undefined) return kept;
  const one = known(word) ?? shortened(word);
  const bare = word.replace(/\d+$/, '');
  const found: readonly Word[] =
    one !== undefined
      ? [wordOf(word, one)]
      : bare !== word && bare.length > 2
        ? read(bare)
        : (apart(word) ?? [wordOf(word, guessed(word) ?? unread)]);
  if (readings.size < 50_000) readings.set(word, found);
  return found;
}

const sentences = new Map<string, readonly Word[]>();

/**
 * The words of a name or sentence, compounds and shortenings read, word pairs that are one thing joined. The same text gives
 * the very same words.
 */
export function wordsOf(text: string): readonly Word[] {
  let words = sentences.get(text);
  if (words === undefined) {
    words = readWords(text);
    // Sections, headings and prefixes come again with every key; what is long comes once.
    if (text.length <= 120 && sentences.size < 20_000) sentences.set(text, words);
  }
  return words;
}

function readWords(text: string): readonly Word[] {
  const rough = nameWords(text).filter((word) => word.length <= longest);
  const words: Word[] = [];
  for (let at = 0; at < rough.length; at++) {
    let joined = false;
    for (const count of [3, 2]) {
      const pair = rough.slice(at, at + count);
      const one = pair.length === count ? joins.get(pair.map(stem).join(' ')) : undefined;
      if (one === undefined) continue;
      for (const word of one) words.push(wordOf(pair.join(' '), conceptOf(word)));
      at += count - 1;
      joined = true;
      break;
    }
    const word = rough[at];
    if (!joined && word !== undefined) words.push(...rejoin(read(word)));
  }
  return words;
}

/** Joins pairs within a compound that was taken apart: `fastforward`, `deadzone`. */
function rejoin(words: readonly Word[]): readonly Word[] {
  if (words.length < 2) return words;
  const out: Word[] = [];
  for (let at = 0; at < words.length; at++) {
    const [one, two] = [words[at], words[at + 1]];
    if (one === undefined) continue;
    const joined = two === undefined ? undefined : joins.get(`${stem(one.text)} ${stem(two.text)}`);
    if (joined === undefined || two === undefined) out.push(one);
    else {
      at += 1;
      for (const word of joined) out.push(wordOf(one.text + two.text, conceptOf(word)));
    }
  }
  return out;
}
