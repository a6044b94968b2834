import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { decidedAs, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** A chord of the operating system that ends a game without keeping the state that the profile asks for. */
export const reservedChordLoses: Rule = {
  name: 'reserved-chord-loses',
  codes: ['reserved-chord-loses-state'],
  check({ resolved }) {
    const findings: Finding[] = [];
    const state = players(resolved).flatMap(
      (instance) => decidedAs(resolved, instance, 'saves.state-on-exit', true) ?? [],
    )[0];
    if (state === undefined) return findings;
    for (const chord of resolved.device.reserved) {
      if (!chord.loses.includes('state-on-exit')) continue;
      findings.push(
        makeFinding('reserved-chord-loses-state', {
          place: chord.place,
          related: [{ place: state.origin.place, note: 'a state is kept on leaving, by this line' }],
          setting: 'saves.state-on-exit',
          detail: `${chord.positions.join(' with ')} (${chord.does}) leaves a game without keeping its state: progress since the last save of the game is lost.`,
          wayOut: 'Tell whoever plays to leave games by the exit hotkey, not by this chord.',
        }),
      );
    }
    return findings;
  },
};
