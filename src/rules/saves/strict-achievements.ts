import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Decision } from '../../model/resolved.ts';
import { decidedAs, firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Strict achievements switch off what would make them easy (common practice, no source). */
export const strictAchievements: Rule = {
  name: 'strict-achievements',
  codes: ['strict-switches-off'],
  check({ resolved }) {
    const found: { origin: Decision['origin']; lost: readonly Decision[]; instance: string }[] = [];
    for (const instance of players(resolved)) {
      const strict = decidedAs(resolved, instance, 'achievements.strict', true);
      if (strict === undefined) continue;
      const hotkeys = ['hotkeys.bind.load-state', 'hotkeys.bind.rewind', 'hotkeys.bind.slow-motion'].flatMap((id) => {
        const decision = resolved.decide(instance, id, {});
        return decision?.value.kind === 'press' ? [decision] : [];
      });
      const resume = decidedAs(resolved, instance, 'saves.resume-on-start', true);
      const lost = resume === undefined ? hotkeys : [...hotkeys, resume];
      if (lost.length > 0) found.push({ origin: strict.origin, lost, instance: instance.name });
    }
    return firstByOrigin(found).map(({ origin, lost, instance }) =>
      makeFinding('strict-switches-off', {
        place: origin.place,
        related: lost.map((decision) => ({
          place: decision.origin.place,
          note: `${decision.setting} will do nothing`,
        })),
        setting: 'achievements.strict',
        instance,
        detail: `Strict achievements switch off loading states, rewinding, slow motion and resuming: ${lost.map((decision) => decision.setting).join(', ')} will do nothing.`,
        wayOut: 'Set achievements.strict: false, or take these settings out where achievements count.',
      }),
    );
  },
};
