import { spellChord } from './bound-presses.ts';
import { chordRule } from './chord-rule.ts';

/** Hold and button, or two controls of a chord, under the same finger. */
export const sameFinger = chordRule('same-finger', 'same-finger', (first) => ({
  detail: `${first.action} wants ${spellChord(first)} together, and on this body one finger would have to press two of them.`,
  wayOut: `Give ${first.action} a control under another finger; or, if your hands reach it, write hands: { ${first.positions[0] ?? 'mode'}: left-index } or the like under device.`,
}));
