import type { Finding } from '../../diagnostics/finding.ts';
import { holdManner } from '../../dialect/codecs/pressed.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { players } from '../ask.ts';
import type { Rule } from '../contract.ts';
import { ownPresses } from './each-press.ts';

const waysOut: readonly string[] = ['open-menu', 'exit-game'];

/**
 * Neither the menu nor the end of a game can be reached with one control. Game accessibility guidelines, motor: 'Ensure that
 * multiple simultaneous actions are not required' (from memory). From the menu one leaves, so that one of the two is enough.
 */
export const wayOutNeedsChord: Rule = {
  name: 'way-out-needs-chord',
  codes: ['way-out-needs-chord'],
  check(input) {
    const { device } = input.resolved;
    const findings = new Map<string, Finding>();
    for (const { name, dialect } of players(input.resolved)) {
      const presses = ownPresses(input, {})
        .filter(({ instance, action }) => instance === name && waysOut.includes(action))
        .sort((a, b) => waysOut.indexOf(a.action) - waysOut.indexOf(b.action));
      const [first, second] = presses;
      if (first === undefined || presses.some(({ positions }) => positions.length === 1)) continue;
      const key = presses.map(({ place }) => `${place.source.name}:${place.span.start}`).join();
      if (findings.has(key)) continue;
      findings.set(
        key,
        makeFinding('way-out-needs-chord', {
          place: first.place,
          ...(second === undefined ? {} : { related: [{ place: second.place, note: 'two at once as well' }] }),
          ...(first.setting === undefined ? {} : { setting: first.setting }),
          instance: name,
          about: [...presses.map(({ action }) => action), name],
          detail: `On ${name} a game is left only by pressing several controls at once: ${presses.map(({ action, positions }) => `${action} is ${positions.join(' + ')}`).join(', ')}. (Game accessibility guidelines: do not require simultaneous actions.)`,
          wayOut:
            holdManner(dialect) === 'global'
              ? `${name} asks for the hold control with every hotkey: allow it with that reason; or write hotkeys: { hold: none }, and bind only controls that games do not use.`
              : `Give one of them a control of its own that games do not use, as in ${first.action}: { alone: mode }, with another control for hold.`,
          picture: {
            body: device.body,
            has: [...device.controls.controls.keys()],
            marked: [...new Set(presses.flatMap(({ positions }) => positions))],
          },
        }),
      );
    }
    return [...findings.values()];
  },
};
