import { makeFinding } from '../../diagnostics/make-finding.ts';
import { decidedAnywhere } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** How many days the collection on the card takes against the artwork service's daily limit. One request for a game and a kind of picture. */
export const artworkDays: Rule = {
  name: 'artwork-days',
  codes: ['artwork-takes-days'],
  check({ resolved, card }) {
    const limit = decidedAnywhere(resolved, 'artwork.request-limit');
    if (card === undefined || limit?.value.kind !== 'quantity' || limit.value.amount <= 0) return [];
    const take = decidedAnywhere(resolved, 'artwork.take')?.value;
    const kinds = take?.kind === 'words' ? Math.max(1, take.words.length) : 1;
    const systems = decidedAnywhere(resolved, 'artwork.systems')?.value;
    const wanted = systems?.kind === 'texts' ? systems.texts : [...card.games.keys()];
    const games = wanted.reduce((sum, system) => sum + (card.games.get(system) ?? 0), 0);
    const days = Math.ceil((games * kinds) / limit.value.amount);
    if (days <= 1) return [];
    return [
      makeFinding('artwork-takes-days', {
        place: limit.origin.place,
        setting: 'artwork.request-limit',
        detail: `${games} games at ${kinds} requests each, with ${limit.value.amount} requests a day, take ${days} days.`,
        wayOut: 'Let it run over several days, take fewer kinds of artwork, or name the systems under artwork.systems.',
      }),
    ];
  },
};
