import type { Position } from '../../vocabulary/positions.ts';

/**
 * upright: one hand's width, screen above the controls; wide: controls left and right of the screen; folding: like upright
 * with a lid, shoulders along the hinge.
 */
export type Body = 'upright' | 'wide' | 'folding';

const bothThumbs = ['left-thumb', 'right-thumb'] as const;

/** Which fingers can reach the controls whose place differs from body to body (common practice, no source). */
const byBody: Readonly<Record<Body, Partial<Readonly<Record<Position, readonly string[]>>>>> = {
  // Below the screen, between the hands: either thumb comes there.
  upright: {
    select: bothThumbs,
    start: bothThumbs,
    mode: bothThumbs,
    'trigger-left': ['left-index', 'left-middle'],
    'trigger-right': ['right-index', 'right-middle'],
  },
  // Beside the screen, so that the other thumb is far; the index finger comes over the edge.
  wide: {
    select: ['left-thumb', 'left-index'],
    start: ['right-thumb', 'right-index'],
    mode: bothThumbs,
    'trigger-left': ['left-index', 'left-middle'],
    'trigger-right': ['right-index', 'right-middle'],
  },
  // Shoulder and trigger lie beside each other along the hinge, under one finger.
  folding: {
    select: bothThumbs,
    start: bothThumbs,
    mode: bothThumbs,
    'trigger-left': ['left-index'],
    'trigger-right': ['right-index'],
  },
};

/**
 * The fingers that can press a control; undefined: any finger, since it is pressed with a hand taken away (volume, power,
 * lid) or its place is not known (extra). `hands` of the profile overrides.
 */
export function fingersOf(
  position: Position,
  body: Body | undefined,
  hands: Readonly<Record<string, string>>,
): readonly string[] | undefined {
  const own = Object.hasOwn(hands, position) ? hands[position] : undefined;
  if (own !== undefined) return [own];
  if (/^(dpad-|stick-left-|thumb-left$)/.test(position)) return ['left-thumb'];
  if (/^(south|east|west|north|thumb-right)$|^stick-right-/.test(position)) return ['right-thumb'];
  if (position === 'shoulder-left') return ['left-index'];
  if (position === 'shoulder-right') return ['right-index'];
  return byBody[body ?? 'upright'][position];
}

/** Whether each control can have a finger of its own; the controls are few, so that every way is tried. */
export function canPressTogether(
  positions: readonly Position[],
  body: Body | undefined,
  hands: Readonly<Record<string, string>>,
): boolean {
  const wanted = positions.flatMap((position) => {
    const able = fingersOf(position, body, hands);
    return able === undefined ? [] : [able];
  });
  const place = (index: number, taken: ReadonlySet<string>): boolean => {
    const able = wanted[index];
    return (
      able === undefined || able.some((finger) => !taken.has(finger) && place(index + 1, new Set([...taken, finger])))
    );
  };
  return place(0, new Set());
}
