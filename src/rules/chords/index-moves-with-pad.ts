import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { players } from '../ask.ts';
import type { Rule } from '../contract.ts';

/** Hotkeys written as an index mean another control on an external pad, whose codes are others. */
export const indexMovesWithPad: Rule = {
  name: 'index-moves-with-pad',
  codes: ['index-moves-with-pad'],
  check({ resolved }) {
    const findings: Finding[] = [];
    for (const instance of players(resolved)) {
      const written = instance.dialect.data.controls?.numbering;
      const order = instance.numbering?.order ?? (typeof written === 'string' ? written : written?.order);
      const hold = resolved.decide(instance, 'hotkeys.hold', {});
      if ((order !== 'sdl' && order !== 'kernel-joystick') || hold?.value.kind !== 'control') continue;
      findings.push(
        makeFinding('index-moves-with-pad', {
          place: hold.origin.place,
          setting: 'hotkeys.hold',
          instance: instance.name,
          detail: `${instance.name} knows hotkeys by the number of a button. A pad that is plugged in counts its own buttons, so that there the same numbers are other controls.`,
          wayOut: 'Play with the built-in controls; or try each hotkey once with the pad before relying on it.',
        }),
      );
    }
    return findings;
  },
};
