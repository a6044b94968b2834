import type { Value } from '../model/value.ts';
import { settingById } from '../vocabulary/registry.ts';
import { parseQuantity } from '../vocabulary/units.ts';
import type { Cannot } from './codecs/contract.ts';
import { valueWords } from './codecs/value-words.ts';
import type { CompiledComputed } from './compiled-dialect.ts';
import type { Context, ValueLookup } from './contract.ts';
import { describeValue } from '../model/describe-value.ts';
import type { NameLookup } from './template/template.ts';

/** Combinations of spellings that are tried when a computed key is read. */
const limit = 10_000;

/** The spellings that the key has for a setting's values, by word; undefined: the value's own word. */
function spellingsOf(key: CompiledComputed, setting: string): ReadonlyMap<string, string> | undefined {
  const all = key.written.spell;
  const own = all !== undefined && Object.hasOwn(all, setting) ? all[setting] : undefined;
  return own === undefined ? undefined : new Map(Object.entries(own));
}

/** The text of a key made from several settings; all of them must have a value. */
export function spellComputed(
  key: CompiledComputed,
  values: ValueLookup,
  context: Context,
  names: NameLookup,
): string | Cannot {
  const texts = new Map<string, string>();
  for (const id of key.written.from) {
    const value = values(id);
    if (value === undefined)
      return {
        kind: 'cannot',
        code: 'name-without-value',
        why: `its key is made from ${key.written.from.join(' and ')}, and ${id} is not set`,
      };
    const spellings = spellingsOf(key, id);
    const words = valueWords(value, context);
    const spelled =
      spellings === undefined ? words[0] : words.map((word) => spellings.get(word)).find((text) => text !== undefined);
    if (spelled === undefined)
      return {
        kind: 'cannot',
        code: 'value-not-learnt',
        why: `the dialect has no spelling for ${describeValue(value)} of ${id}`,
      };
    texts.set(`values.${id}`, spelled);
  }
  const made = key.text.render(
    (name) => texts.get(name) ?? names(name),
    (text) => text,
  );
  if (made.kind === 'text') return made.text;
  return made.kind === 'missing'
    ? { kind: 'cannot', code: 'name-without-value', why: `{{${made.name}}} has no value here` }
    : { kind: 'cannot', code: 'not-expressible', why: made.why };
}

/** The words that a setting may have: of its spellings, else of its closed list. Undefined: there is no end of them. */
function choicesOf(key: CompiledComputed, setting: string): readonly (readonly [string, string])[] | undefined {
  const spellings = spellingsOf(key, setting);
  if (spellings !== undefined) return [...spellings];
  const type = settingById(setting)?.type;
  if (type?.kind === 'boolean')
    return [
      ['true', 'true'],
      ['false', 'false'],
    ];
  return type?.kind === 'word' ? type.of.map((word) => [word, word] as const) : undefined;
}

function valueOf(word: string, setting: string): Value | undefined {
  const type = settingById(setting)?.type;
  switch (type?.kind) {
    case 'boolean':
      return { kind: 'boolean', is: word === 'true' };
    case 'word':
      return { kind: 'word', word };
    case 'text':
      return { kind: 'text', text: word };
    case 'number':
      return Number.isFinite(Number(word)) ? { kind: 'number', number: Number(word) } : undefined;
    case 'quantity': {
      if (type.words?.includes(word) === true) return { kind: 'word', word };
      const quantity = parseQuantity(word, type.measure);
      return quantity.kind === 'amount'
        ? { kind: 'quantity', measure: type.measure, amount: quantity.amount }
        : undefined;
    }
    default:
      return undefined;
  }
}

/**
 * The values of one setting under which the key would hold this text. Empty when a setting of the key has no end of
 * values or there are more than 10,000 combinations: then it is not known that the text parses uniquely.
 */
export function computedCandidates(
  key: CompiledComputed,
  setting: string,
  text: string,
  names: NameLookup,
): readonly Value[] {
  let combinations: readonly ReadonlyMap<string, readonly [string, string]>[] = [new Map()];
  for (const id of key.written.from) {
    const choices = choicesOf(key, id);
    if (choices === undefined || combinations.length * choices.length > limit) return [];
    combinations = combinations.flatMap((chosen) => choices.map((choice) => new Map([...chosen, [id, choice]])));
  }
  const words = new Set<string>();
  for (const chosen of combinations) {
    const look: NameLookup = (name) =>
      name.startsWith('values.') ? chosen.get(name.slice('values.'.length))?.[1] : names(name);
    const made = key.text.render(look, (piece) => piece);
    if (made.kind === 'text' && made.text === text) words.add(chosen.get(setting)?.[0] ?? '');
  }
  return [...words].map((word) => valueOf(word, setting)).filter((value) => value !== undefined);
}
