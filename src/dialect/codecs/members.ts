import { makeFinding } from '../../diagnostics/make-finding.ts';
import { sameText } from '../../model/same-text.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { CodecKind } from './contract.ts';
import { scalar } from './held.ts';

/** A set of words as separate switches, each with a key of its own. */
export const members: CodecKind<'members'> = {
  name: 'members',
  fits: ['words'],
  make(written, site) {
    const { type } = site.setting;
    const { keys, on = 'true', off = 'false' } = written;
    const words = Object.keys(keys);
    const faults: string[] = [];
    if (type.kind === 'words')
      for (const word of words)
        if (!type.of.includes(word))
          faults.push(`${JSON.stringify(word)} is no word of the setting (${type.of.join(', ')})`);
    if (words.length === 0) faults.push('there is no key');
    if (on === off) faults.push('on and off are spelled alike');
    if (faults.length > 0) {
      const findings = faults.map((fault) =>
        makeFinding('bad-codec', {
          place: site.place,
          setting: site.setting.id,
          detail: `The switches cannot say the set: ${fault}.`,
          wayOut: 'Name one key for each word, as in members: { picture: with-picture }.',
        }),
      );
      return { value: undefined, findings };
    }
    return {
      value: {
        rule: { name: 'members', says: 'one switch for each word' },
        nothing: undefined,
        spell(value) {
          if (value.kind !== 'words')
            return { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no set of words` };
          const unknown = value.words.find((word) => !words.includes(word));
          if (unknown !== undefined)
            return { kind: 'cannot', code: 'value-not-learnt', why: `the dialect has no switch for ${unknown}` };
          return {
            kind: 'exact',
            slots: new Map(words.map((word) => [word, scalar(value.words.includes(word) ? on : off)])),
          };
        },
        others: () => [],
        same: sameText,
        candidates(held) {
          const set = words.filter((word) => {
            const value = held.get(word);
            return value?.kind === 'scalar' && value.text === on;
          });
          const ordered = type.kind === 'words' ? type.of.filter((word) => set.includes(word)) : set;
          return [{ kind: 'words', words: ordered }];
        },
      },
      findings: [],
    };
  },
};
