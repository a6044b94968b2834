import type { CatalogueEntry } from './entry.ts';

export const compileCodes = {
  'two-texts-for-one-key': { grade: 'error', summary: 'Two settings write one key differently' },
  'nowhere-expressible': { grade: 'error', summary: 'No frontend here can say this' },
  'instances-will-differ': { grade: 'warning', summary: 'Only some frontends can say this' },
  // Why one frontend cannot say one value.
  'not-expressible': { grade: 'warning', summary: 'This frontend cannot say this' },
  'value-not-learnt': { grade: 'warning', summary: 'The dialect has no spelling for this' },
  'no-such-control-form': { grade: 'warning', summary: 'The control sends nothing this dialect spells' },
  'mapping-without-capture': { grade: 'error', summary: 'No capture tells what the pad is' },
  'mapping-undecided': { grade: 'error', summary: 'Numbers of the mapping line are open' },
  'part-not-mounted': { grade: 'warning', summary: 'Where a part is mounted is unknown' },
  'path-not-possible': { grade: 'error', summary: 'A dialect file has no path' },
  'name-without-value': { grade: 'warning', summary: 'A template name has no value' },
  // What is wrong with a dialect.
  'bad-template': { grade: 'error', summary: 'The template cannot be read' },
  'unknown-template-name': { grade: 'error', summary: 'A template uses an unknown name' },
  'template-not-allowed': { grade: 'error', summary: 'A template asks for too much' },
  'unknown-dialect-setting': { grade: 'error', summary: 'The vocabulary has no such setting' },
  'unknown-dialect-file': { grade: 'error', summary: 'The dialect has no such file' },
  'one-codec-wanted': { grade: 'error', summary: 'A spelling needs one codec' },
  'wrong-codec': { grade: 'error', summary: 'The codec does not fit the setting' },
  'bad-codec': { grade: 'error', summary: 'The codec cannot work as written' },
  'bad-key-map': { grade: 'error', summary: 'The key does not fit its codec' },
  'bad-records': { grade: 'error', summary: 'The records cannot work as written' },
  'bad-version-range': { grade: 'error', summary: 'The version range cannot be read' },
  'bad-detect-pattern': { grade: 'error', summary: 'The pattern cannot be used' },
  'path-leaves-card': { grade: 'error', summary: 'A path must stay on its part' },
  'scope-not-read': { grade: 'error', summary: 'The frontend never reads this scope' },
  'not-all-learnt': { grade: 'note', summary: 'Some values have no spelling yet' },
  'spelling-of-newest': { grade: 'note', summary: 'Unknown version: the newest spelling is used' },
} as const satisfies Record<string, CatalogueEntry>;
