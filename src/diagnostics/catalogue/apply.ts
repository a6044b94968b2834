import type { CatalogueEntry } from './entry.ts';

export const applyCodes = {
  'card-changed-since': { grade: 'error', summary: 'The card changed since this was planned' },
  'link-leaves-part': { grade: 'error', summary: 'A link leads out of the part' },
  'link-joins-files': { grade: 'error', summary: 'Two files are one on this card' },
  'not-enough-room': { grade: 'error', summary: 'There is not enough room' },
  'card-read-only': { grade: 'error', summary: 'The card can only be read' },
  'card-failed': { grade: 'error', summary: 'The card failed' },
  'workspace-failed': { grade: 'error', summary: 'The workspace cannot be written' },
  'locked-by-another': { grade: 'error', summary: 'Another process works on this card' },
  'lock-taken-over': { grade: 'note', summary: 'An earlier process left its lock' },
  'write-mended': { grade: 'note', summary: 'An interrupted write was put right' },
  'not-kept-mode': { grade: 'warning', summary: 'Owner or mode cannot be given here' },
  'hand-change-stays': { grade: 'warning', summary: 'A later change by hand stays' },
  'nothing-to-undo': { grade: 'error', summary: 'There is no write to undo' },
  'not-a-card': { grade: 'error', summary: 'This folder is no card' },
} as const satisfies Record<string, CatalogueEntry>;
