import { makeFinding } from '../../diagnostics/make-finding.ts';
import { nearestNames } from '../../diagnostics/nearest.ts';
import { isPosition } from '../../vocabulary/positions.ts';
import { closedWords } from '../closed-words.ts';
import type { Value } from '../../model/value.ts';
import { parseQuantity, printQuantity } from '../../vocabulary/units.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { sameText } from '../../model/same-text.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { CodecKind, Moment } from './contract.ts';
import { oneSlot, onlyText } from './held.ts';
import { valueWords } from './value-words.ts';

/** The value that a word of the map is, for this setting. */
function valuesOf(word: string, setting: SettingDefinition, at: Moment): readonly Value[] {
  const { type } = setting;
  const none: readonly Value[] = word === 'none' ? [{ kind: 'none' }] : [];
  switch (type.kind) {
    case 'boolean':
      return word === 'true' || word === 'false' ? [{ kind: 'boolean', is: word === 'true' }] : [];
    case 'word':
      return type.of.includes(word) ? [{ kind: 'word', word }] : [];
    case 'number':
      return Number.isFinite(Number(word)) ? [{ kind: 'number', number: Number(word) }] : [];
    case 'quantity': {
      if (type.words?.includes(word)) return [{ kind: 'word', word }];
      const quantity = parseQuantity(word, type.measure);
      return quantity.kind === 'amount' ? [{ kind: 'quantity', measure: type.measure, amount: quantity.amount }] : [];
    }
    case 'text':
      return [{ kind: 'text', text: word }];
    case 'control': {
      const control = [...at.context.controls.controls.keys()].find((position) => position === word);
      return control === undefined ? none : [{ kind: 'control', position: control }];
    }
    case 'words':
      return type.of.includes(word) ? [{ kind: 'words', words: [word] }] : [];
    case 'texts':
      return [{ kind: 'texts', texts: [word] }];
    case 'cores': {
      const [first = '', second] = word.split('/');
      if (second === undefined) return [{ kind: 'core', instance: at.context.instance, core: first }];
      const named = [...(at.context.instances ?? [])].filter(
        ([name, facts]) => name === first || facts.dialect === first,
      );
      return named.map(([instance]) => ({ kind: 'core', instance, core: second }));
    }
    case 'place': {
      const colon = word.indexOf(':');
      return colon < 1 ? [] : [{ kind: 'place', part: word.slice(0, colon), folder: word.slice(colon + 1) }];
    }
    case 'bind':
    case 'secret':
    case 'networks':
    case 'options':
    case 'lists':
      return none;
  }
}

/** The one spelling of amounts as keys of the map: `1000 ms` and `1 s` are one. */
function canonical(word: string, setting: SettingDefinition): string {
  if (setting.type.kind === 'quantity' && setting.type.words?.includes(word) !== true) {
    const quantity = parseQuantity(word, setting.type.measure);
    return quantity.kind === 'amount' ? printQuantity(quantity.amount, setting.type.measure) : word;
  }
  return setting.type.kind === 'number' && word.trim() !== '' && Number.isFinite(Number(word))
    ? String(Number(word))
    : word;
}

/** Whether a profile could give the setting this value, or for a hotkey whether it is a `while`. */
function isWord(word: string, setting: SettingDefinition): boolean {
  const { type } = setting;
  switch (type.kind) {
    case 'boolean':
    case 'word':
    case 'words':
    case 'bind':
      return closedWords(setting).includes(word);
    case 'number':
      return word.trim() !== '' && Number.isFinite(Number(word));
    case 'quantity':
      return type.words?.includes(word) === true || parseQuantity(word, type.measure).kind === 'amount';
    case 'control':
      return word === 'none' || isPosition(word);
    case 'text':
      return type.pattern === undefined || new RegExp(type.pattern, 'u').test(word);
    case 'secret':
    case 'place':
    case 'texts':
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return true;
  }
}

/** Each value has its spellings: the first is written, all are read. Of a hotkey, the value is its `while`. */
export const values: CodecKind<'values'> = {
  name: 'values',
  fits: [
    'boolean',
    'word',
    'number',
    'quantity',
    'text',
    'control',
    'bind',
    'place',
    'words',
    'texts',
    'cores',
    'options',
  ],
  make(written, site) {
    const { setting } = site;
    const spellings = new Map<string, readonly string[]>();
    for (const [word, texts] of Object.entries(written)) {
      const list = typeof texts === 'string' ? [texts] : texts;
      if (list.length > 0) spellings.set(canonical(word, setting), list);
    }
    const strange = Object.keys(written).filter((word) => !isWord(word, setting));
    if (strange.length > 0) {
      const words = closedWords(setting);
      const findings = strange.map((word) => {
        const near = nearestNames(word, words);
        return makeFinding('bad-codec', {
          place: site.document.keyPlace([...site.path, word]),
          setting: setting.id,
          detail: `${JSON.stringify(word)} is no value of ${setting.id}.`,
          wayOut:
            near.length > 0
              ? `Write ${near.join(' or ')}.`
              : words.length > 0
                ? `Write one of ${words.join(', ')}.`
                : 'Write a value as a profile would, as in values: { 10 s: "10" }.',
        });
      });
      return { value: undefined, findings };
    }
    if (spellings.size === 0) {
      return {
        value: undefined,
        findings: [
          makeFinding('bad-codec', {
            place: site.place,
            setting: setting.id,
            detail: 'The map of values is empty, so nothing can be written or read.',
            wayOut: 'Write each value with its spelling, as in values: { true: "1", false: "0" }.',
          }),
        ],
      };
    }
    const textsOf = (value: Value, at: Moment): readonly string[] => {
      for (const word of valueWords(value, at.context)) {
        const texts = spellings.get(word);
        if (texts !== undefined) return texts;
      }
      return [];
    };
    const held = [...spellings.keys()].join(', ');
    return {
      value: {
        rule: { name: 'values', says: 'the first spelling of the value' },
        nothing: undefined,
        spell(value, at) {
          const [first] = textsOf(value, at);
          if (first !== undefined) return { kind: 'exact', slots: oneSlot(first) };
          const what = value.kind === 'press' ? value.while : describeValue(value);
          return {
            kind: 'cannot',
            code: 'value-not-learnt',
            why: `the dialect has no spelling for ${what}, only for ${held}`,
          };
        },
        others: (value, at) => textsOf(value, at).slice(1).map(oneSlot),
        same: sameText,
        candidates(slots, at) {
          const text = onlyText(slots);
          const words = [...spellings].filter(([, texts]) => texts.some((one) => one === text));
          return words.flatMap(([word]) => valuesOf(word, setting, at));
        },
      },
      findings: [],
    };
  },
};
