import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';
import { eachPress } from './each-press.ts';

/**
 * A stick pressed in while something else is pressed: the thumb has to push down without moving the stick. Game accessibility
 * guidelines, motor: 'Ensure controls are as simple as possible, or provide a simpler alternative' (from memory).
 */
export const stickClickInChord: Rule = {
  name: 'stick-click-in-chord',
  codes: ['stick-click-in-chord'],
  check: (input) =>
    eachPress(input).flatMap(({ action, instance, positions, hold, setting, place }) => {
      const clicked = positions.filter((position) => position === 'thumb-left' || position === 'thumb-right');
      const [first] = clicked;
      if (first === undefined || positions.length < 2) return [];
      const { body, controls } = input.resolved.device;
      return [
        makeFinding('stick-click-in-chord', {
          place,
          ...(setting === undefined ? {} : { setting }),
          instance,
          about: [action, instance, ...clicked],
          detail: `${action} is ${positions.join(' + ')}, where ${clicked.join(' and ')} ${clicked.length === 1 ? 'is a stick' : 'are sticks'} pressed in. (Game accessibility guidelines: keep controls as simple as possible.)`,
          wayOut: clicked.some((position) => position === hold)
            ? 'Write another hold: control, such as mode or select.'
            : `Give ${action} a button in place of ${clicked.join(' and ')}.`,
          picture: { body, has: [...controls.controls.keys()], marked: positions },
        }),
      ];
    }),
};
