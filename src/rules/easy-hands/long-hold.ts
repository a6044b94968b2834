import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';
import { eachPress } from './each-press.ts';

/**
 * A hotkey that works only as long as it is held, where it could be switched on and off. Game accessibility guidelines,
 * motor: 'Avoid / provide alternatives to requiring buttons to be held down' (from memory).
 */
export const longHold: Rule = {
  name: 'long-hold',
  codes: ['long-hold'],
  check: (input) =>
    eachPress(input).flatMap(({ action, instance, positions, setting, place, decision }) => {
      if (decision?.value.kind !== 'press' || decision.value.while !== 'held' || setting === undefined) return [];
      const { press } = decision.value;
      const how =
        press.kind === 'chord'
          ? `chord: [${press.positions.join(', ')}]`
          : `${press.kind === 'alone' ? 'alone' : 'control'}: ${press.position}`;
      return [
        makeFinding('long-hold', {
          place,
          setting,
          instance,
          about: [action, instance],
          detail: `${action} works only for as long as ${positions.join(' + ')} ${positions.length === 1 ? 'is' : 'are'} held. (Game accessibility guidelines: provide alternatives to holding buttons down.)`,
          wayOut: `Write ${action}: { ${how}, while: toggled }; or, if the frontend knows no such switch, allow it with that reason.`,
        }),
      ];
    }),
};
