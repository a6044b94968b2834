import type { SecretUse } from '../3-compile/secret-uses.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Resolved } from '../model/resolved.ts';
import { applyAllowances } from '../rules/allowances.ts';

/** What is said when a write puts secrets onto a card: one warning `secrets-in-plain-text`, or nothing. */
export function secretsCaution(uses: readonly SecretUse[]): readonly Finding[] {
  const [first] = uses;
  if (first === undefined) return [];
  const names = [...new Set(uses.map(({ name }) => `secret:${name}`))];
  const files = [...new Set(uses.flatMap(({ files: paths }) => paths))];
  const shown = files.slice(0, 4).join(', ') + (files.length > 4 ? ` and ${files.length - 4} more` : '');
  return [
    makeFinding('secrets-in-plain-text', {
      detail: `${names.join(', ')} will stand on the card as ${names.length === 1 ? 'it is' : 'they are'}, in ${shown}; whoever holds the card can read ${names.length === 1 ? 'it' : 'them'}.`,
      wayOut: 'Use passwords that are used nowhere else, and change them when the card is lost.',
      place: first.decision.origin.place,
      setting: first.setting,
      instance: first.instance,
    }),
  ];
}

/** The same, unless the profile says that it is intended. */
export function cautionFor(uses: readonly SecretUse[], resolved: Resolved): readonly Finding[] {
  return applyAllowances(secretsCaution(uses), resolved.allow).filter(({ code }) => code === 'secrets-in-plain-text');
}
