import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { decidedAs, firstByOrigin, players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** A rewind hotkey while rewinding is off everywhere does nothing. */
export const rewindIsOff: Rule = {
  name: 'rewind-is-off',
  codes: ['rewind-is-off'],
  check({ resolved }) {
    const found = players(resolved).flatMap((instance) => {
      const bind = resolved.decide(instance, 'hotkeys.bind.rewind', {});
      const off = decidedAs(resolved, instance, 'speed.rewind.on', false);
      const somewhere = resolved
        .points(instance, 'speed.rewind.on')
        .some((point) => decidedAs(resolved, instance, 'speed.rewind.on', true, point) !== undefined);
      return bind?.value.kind === 'press' && off !== undefined && !somewhere
        ? [{ instance, off, origin: bind.origin }]
        : [];
    });
    return firstByOrigin(found).map(({ instance, off, origin }): Finding =>
      makeFinding('rewind-is-off', {
        place: origin.place,
        related: [{ place: off.origin.place, note: 'switched off here' }],
        setting: 'hotkeys.bind.rewind',
        instance: instance.name,
        about: ['rewind'],
        detail: `The rewind hotkey does nothing on ${instance.name}, since rewinding is off.`,
        wayOut: 'Set speed.rewind.on to true, or write rewind: none to free the control.',
      }),
    );
  },
};
