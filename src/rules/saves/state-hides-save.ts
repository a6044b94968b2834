import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Decision } from '../../model/resolved.ts';
import { decidedAs, firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Both switches on: a save made elsewhere is hidden by the older state (common practice, no source). */
export const stateHidesSave: Rule = {
  name: 'state-hides-save',
  codes: ['state-hides-save'],
  check({ resolved }) {
    const found: { origin: Decision['origin']; other: Decision }[] = [];
    for (const instance of players(resolved)) {
      const resume = decidedAs(resolved, instance, 'saves.resume-on-start', true);
      const state = decidedAs(resolved, instance, 'saves.state-on-exit', true);
      if (resume !== undefined && state !== undefined) found.push({ origin: resume.origin, other: state });
    }
    return firstByOrigin(found).map(({ origin, other }) =>
      makeFinding('state-hides-save', {
        place: origin.place,
        related: [{ place: other.origin.place, note: 'the state is kept by this line' }],
        setting: 'saves.resume-on-start',
        detail:
          "A game resumes its last state, in which the game's own save is as old as the state. A save carried over from another device is not seen until the game is started afresh.",
        wayOut:
          'After copying a save from elsewhere, start that game once without resuming. To be rid of it, set saves.resume-on-start: false.',
      }),
    );
  },
};
