import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { decidedAs, firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** `exit-game` with ask-first on takes two presses. */
export const exitAsksFirst: Rule = {
  name: 'exit-asks-first',
  codes: ['exit-asks-first'],
  check({ resolved }) {
    const found = players(resolved).flatMap((instance) => {
      const exit = resolved.decide(instance, 'hotkeys.bind.exit-game', {});
      const asks = decidedAs(resolved, instance, 'exit.ask-first', true);
      return exit?.value.kind === 'press' && asks !== undefined ? [{ instance, exit, origin: asks.origin }] : [];
    });
    return firstByOrigin(found).map(({ instance, exit, origin }): Finding =>
      makeFinding('exit-asks-first', {
        place: origin.place,
        related: [{ place: exit.origin.place, note: 'the hotkey' }],
        setting: 'exit.ask-first',
        instance: instance.name,
        about: ['exit-game'],
        detail: 'exit-game has to be pressed twice, since leaving a game asks first.',
        wayOut: 'Tell the people who play; or set exit.ask-first to false, if the game is kept on leaving.',
      }),
    );
  },
};
