import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';

/** What a write would take of the card at its fullest, counted in clusters, against what is free. */
export const enoughRoom: Rule = {
  name: 'enough-room',
  codes: ['not-enough-room'],
  check({ resolved, card }) {
    return (card?.room ?? []).flatMap(({ parts, cluster, free, peak }) =>
      peak * cluster <= free
        ? []
        : [
            makeFinding('not-enough-room', {
              place: resolved.profile.place(['device', 'parts', ...parts.slice(0, 1)]),
              about: parts,
              detail: `${parts.map((part) => `'${part}'`).join(' and ')} has ${free} bytes free; the new files beside the old ones take ${peak * cluster} (${peak} clusters of ${cluster} bytes).`,
              wayOut: 'Make room on it before you write.',
            }),
          ],
    );
  },
};
