import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Value } from '../../model/value.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { CodecKind, Told } from './contract.ts';
import { onlySlot, scalar } from './held.ts';

function itemsOf(value: Value): readonly string[] | undefined {
  return value.kind === 'words' ? value.words : value.kind === 'texts' ? value.texts : undefined;
}

/** Several words or texts in one value: joined by a separator, or as the syntax's own list. */
export const list: CodecKind<'list'> = {
  name: 'list',
  fits: ['words', 'texts'],
  make(written, site) {
    const { separator, empty } = written;
    const { type } = site.setting;
    const spellings = new Map(Object.entries(written.values ?? {}));
    const faults: string[] = [];
    if (separator === '') faults.push('with an empty separator the items run together');
    if (new Set(spellings.values()).size < spellings.size) faults.push('two items have one spelling');
    if (type.kind === 'words') {
      for (const word of spellings.keys())
        if (!type.of.includes(word)) faults.push(`${JSON.stringify(word)} is no word of the setting`);
    }
    if (separator !== undefined && empty !== undefined && [...spellings.values()].includes(empty))
      faults.push('an item is spelled as the empty list');
    if (faults.length > 0) {
      const findings = faults.map((fault) =>
        makeFinding('bad-codec', {
          place: site.place,
          setting: site.setting.id,
          detail: `The list cannot be written so that it is read back: ${fault}.`,
          wayOut: 'Correct it, as in list: { separator: "," }.',
        }),
      );
      return { value: undefined, findings };
    }
    const words = new Map([...spellings].map(([word, spelling]) => [spelling, word]));
    const counts = type.kind === 'texts' || (type.kind === 'words' && type.ordered);
    const trimmed = separator === undefined ? '' : separator.trim();

    /** The items' spellings; undefined when it is no list of this kind. */
    const read = (held: SyntaxValue): readonly string[] | undefined => {
      if (separator === undefined) {
        if (held.kind === 'list') return held.items.map((item) => item.text);
        return empty !== undefined && held.text === empty ? [] : undefined;
      }
      if (held.kind === 'list') return undefined;
      if (held.text === (empty ?? '')) return [];
      if (trimmed === '') return held.text.trim().split(/\s+/);
      return held.text.split(trimmed).map((item) => item.trim());
    };
    const carried = (item: string): boolean => {
      if (separator === undefined) return true;
      if (item === '' || item === empty || item !== item.trim()) return false;
      return trimmed === '' ? !/\s/.test(item) : !item.includes(trimmed);
    };
    const join = (items: readonly string[]): SyntaxValue => {
      if (items.length === 0 && empty !== undefined) return scalar(empty);
      return separator === undefined
        ? { kind: 'list', items: items.map((text) => ({ text })) }
        : scalar(items.join(separator));
    };
    const spell = (value: Value): Told => {
      const items = itemsOf(value);
      if (items === undefined)
        return { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no list` };
      const texts: string[] = [];
      for (const item of items) {
        const spelling =
          spellings.get(item) ?? (written.values === undefined || type.kind === 'texts' ? item : undefined);
        if (spelling === undefined)
          return { kind: 'cannot', code: 'value-not-learnt', why: `the dialect has no spelling for ${item}` };
        if (!carried(spelling))
          return {
            kind: 'cannot',
            code: 'not-expressible',
            why: `a list joined by ${JSON.stringify(separator)} cannot carry ${JSON.stringify(spelling)}`,
          };
        if (spellings.get(item) === undefined && words.has(spelling)) {
          return {
            kind: 'cannot',
            code: 'not-expressible',
            why: `${item} would be read as ${words.get(spelling) ?? ''}`,
          };
        }
        texts.push(spelling);
      }
      return { kind: 'exact', slots: new Map([[onlySlot, join(texts)]]) };
    };
    return {
      value: {
        rule: {
          name: 'list',
          says: separator === undefined ? 'a list of the file format' : `items joined by ${JSON.stringify(separator)}`,
        },
        nothing: undefined,
        spell,
        others: () => [],
        same(held, said) {
          const a = read(held);
          const b = read(said);
          if (a === undefined || b === undefined || a.length !== b.length) return false;
          if (counts) return a.every((item, at) => item === b[at]);
          const [left, right] = [[...a].sort(), [...b].sort()];
          return left.every((item, at) => item === right[at]);
        },
        candidates(slots) {
          const held = slots.get(onlySlot);
          const items = held === undefined ? undefined : read(held);
          if (items === undefined) return [];
          const named = items.map((item) => words.get(item) ?? item);
          if (type.kind === 'texts') return [{ kind: 'texts', texts: named }];
          if (type.kind !== 'words' || named.some((word) => !type.of.includes(word))) return [];
          // A set is told in the vocabulary's order, whatever the file's.
          return [{ kind: 'words', words: type.ordered ? named : type.of.filter((word) => named.includes(word)) }];
        },
      },
      findings: [],
    };
  },
};
