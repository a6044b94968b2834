import type { CatalogueEntry } from './entry.ts';

/** Raised only when `check --easy-hands` asks for them: guidance, which a good set-up may go against. */
export const easyHandsCodes = {
  'long-hold': { grade: 'note', summary: 'This hotkey has to be kept held' },
  'stick-click-in-chord': { grade: 'note', summary: 'A chord clicks a stick' },
  'way-out-needs-chord': { grade: 'note', summary: 'Leaving a game takes two at once' },
} as const satisfies Record<string, CatalogueEntry>;
