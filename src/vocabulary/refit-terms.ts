/** What a refit costs, term by term; `refit: { weights: … }` in a profile names them. */
export const refitTerms = [
  {
    name: 'dropped',
    points: 1_000_000_000,
    says: 'hotkeys without a place',
    counts: 'A hotkey that has no place. Twice for one pressed often, three times for one that leads out of a game.',
  },
  { name: 'moved', points: 1_000_000, says: 'hotkeys moved', counts: 'A hotkey whose chord is another one.' },
  {
    name: 'beside',
    points: 10_000,
    says: 'slips of the finger that lose something',
    counts: 'What loses something, beside what is pressed often.',
  },
  { name: 'unwished', points: 32, says: 'moved past their own wishes', counts: 'None of the wishes of its line.' },
  { name: 'position', points: 16, says: 'at another position', counts: 'A control at another position.' },
  { name: 'label', points: 8, says: 'under another label', counts: 'A control with another label.' },
  { name: 'hand', points: 4, says: 'for the other hand', counts: 'A control for the other hand.' },
  { name: 'finger', points: 2, says: 'under another finger', counts: 'A control under another finger.' },
  { name: 'kind', points: 1, says: 'on another kind of control', counts: 'Another kind of control.' },
] as const;

export type RefitTerm = (typeof refitTerms)[number]['name'];

/** Points of each term. */
export type RefitWeights = Readonly<Record<RefitTerm, number>>;

/** More is not counted exactly any longer. */
export const mostPoints = 1_000_000_000;
