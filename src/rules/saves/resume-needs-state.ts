import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Decision } from '../../model/resolved.ts';
import { decidedAs, firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Resuming needs a state that was kept on leaving. */
export const resumeNeedsState: Rule = {
  name: 'resume-needs-state',
  codes: ['resume-without-state'],
  check({ resolved }) {
    const found: { origin: Decision['origin']; instance: string; state: Decision | undefined }[] = [];
    for (const instance of players(resolved)) {
      const resume = decidedAs(resolved, instance, 'saves.resume-on-start', true);
      if (resume === undefined || decidedAs(resolved, instance, 'saves.state-on-exit', true) !== undefined) continue;
      found.push({
        origin: resume.origin,
        instance: instance.name,
        state: resolved.decide(instance, 'saves.state-on-exit', {}),
      });
    }
    return firstByOrigin(found).map(({ origin, instance, state }): Finding =>
      makeFinding('resume-without-state', {
        place: origin.place,
        ...(state === undefined
          ? {}
          : { related: [{ place: state.origin.place, note: 'no state is kept, by this line' }] }),
        setting: 'saves.resume-on-start',
        instance,
        detail: `${found.map((f) => f.instance).join(' and ')} would resume a place that nothing keeps: saves.state-on-exit is ${state === undefined ? 'not set' : 'off'}.`,
        wayOut: 'Set saves.state-on-exit: true, or saves.resume-on-start: false.',
      }),
    );
  },
};
