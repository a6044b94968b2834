import type { Rule } from '../contract.ts';
import { longHold } from './long-hold.ts';
import { stickClickInChord } from './stick-click-in-chord.ts';
import { wayOutNeedsChord } from './way-out-needs-chord.ts';

/** What `check --easy-hands` adds, after published guidance on playing with little strength or few fingers. */
export const easyHandsRules: readonly Rule[] = Object.freeze([longHold, stickClickInChord, wayOutNeedsChord]);
