import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** The hold control is also seen by the game, unless the profile gives the game's inputs to other controls. */
export const holdReachesGame: Rule = {
  name: 'hold-reaches-game',
  codes: ['hold-reaches-game'],
  check({ resolved }) {
    const findings: Finding[] = [];
    for (const instance of players(resolved)) {
      const hold = resolved.decide(instance, 'hotkeys.hold', {});
      if (hold?.value.kind !== 'control') continue;
      findings.push(
        makeFinding('hold-reaches-game', {
          place: hold.origin.place,
          setting: 'hotkeys.hold',
          instance: instance.name,
          about: [hold.value.position],
          detail: `${instance.name} passes ${hold.value.position} on to the game as well, so that a game which uses it acts whenever a hotkey is reached for.`,
          wayOut: 'Hold a control that games seldom use; or, if none here does, allow it with the reason.',
        }),
      );
    }
    return findings;
  },
};
