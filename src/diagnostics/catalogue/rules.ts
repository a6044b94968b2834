import type { CatalogueEntry } from './entry.ts';

export const ruleCodes = {
  'only-reaches-nothing': { grade: 'warning', summary: 'This block reaches nothing' },
  'version-not-covered': { grade: 'error', summary: 'The dialect does not cover this version' },
  'hold-reaches-game': { grade: 'note', summary: 'The game sees the hold control too' },
  'resume-without-state': { grade: 'warning', summary: 'Nothing is kept that could resume' },
  'state-hides-save': { grade: 'note', summary: 'An old state can hide a save' },
  'saves-not-written': { grade: 'warning', summary: 'Switching off loses saved progress' },
  'core-writes-on-its-own': { grade: 'note', summary: 'Some cores write saves themselves' },
  'reserved-chord-loses-state': { grade: 'note', summary: 'A system chord loses the state' },
  'core-change-strands-states': { grade: 'warning', summary: 'Another core cannot load these states' },
  'strict-switches-off': { grade: 'warning', summary: 'Strict achievements switch this off' },
  'shared-states-differ': { grade: 'warning', summary: 'Two copies share states but differ' },
  'saves-wiped-by-reimage': { grade: 'warning', summary: 'A new image would wipe saves' },
  'firmware-missing': { grade: 'warning', summary: 'The card lacks firmware' },
  'no-network-for-this': { grade: 'warning', summary: 'This needs a network' },
  'adapter-must-stay': { grade: 'note', summary: 'The adapter must stay plugged in' },
  'artwork-takes-days': { grade: 'note', summary: 'Artwork will take several days' },
  'allowance-unused': { grade: 'warning', summary: 'An allowance matches nothing' },
} as const satisfies Record<string, CatalogueEntry>;
