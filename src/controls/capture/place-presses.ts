import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { ControlSource, DeviceInput } from '../../model/device.ts';
import { positions } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { findInput, makeSource, splitControlCode } from '../control-code.ts';
import { codeName, eventCode } from '../event-codes.ts';
import { positionCodes } from '../position-codes.ts';
import { alignPresses } from './align-presses.ts';
import type { ChosenInput } from './choose-inputs.ts';
import { sameSent } from './presses.ts';
import type { PressGroup, Sent } from './presses.ts';
import type { CaptureLine } from './sections.ts';

/** Neighbours that makers wire crosswise, or name the other way round (common practice, no source). */
const crossed: readonly (readonly [Position, Position])[] = [
  ['west', 'north'],
  ['south', 'east'],
  ['shoulder-left', 'trigger-left'],
  ['shoulder-right', 'trigger-right'],
  ['select', 'mode'],
];

export interface Placed {
  readonly pressed: ReadonlyMap<Position, readonly ControlSource[]>;
  readonly unplaced: readonly Position[];
}

/**
 * Joins presses to the positions that were asked for. What was pressed decides over every convention; conventions only
 * tell where in the order a control was left out. Findings: `capture-press-again`, `capture-stray-press`.
 */
export function placePresses(
  asked: readonly { readonly position: Position; readonly line: CaptureLine }[],
  groups: readonly PressGroup[],
  chosen: readonly ChosenInput[],
  findings: Finding[],
): Placed {
  const inputs = chosen.map(({ input }) => input);
  const sources = groups.map((group) => group.sent.flatMap((sent) => sourceOf(sent, chosen) ?? []));
  const matches = alignPresses(asked.length, groups.length, {
    match: (i, j) => matchCost(asked[i]?.position, groups, j),
    missed: (i) => (canSend(asked[i]?.position, inputs) ? 3 : 1.5),
    stray: () => 4,
  });
  const pressed = new Map<Position, readonly ControlSource[]>();
  const taken = new Set<number>();
  const again: { position: Position; line: CaptureLine }[] = [];
  // Of two neighbours of which one was missed, the other may be either.
  const missed = new Set(
    asked.flatMap(({ position }, i) => (matches[i]?.kind === 'press' || !canSend(position, inputs) ? [] : [position])),
  );
  const doubtful = new Set(crossed.flatMap((pair) => (pair.some((position) => missed.has(position)) ? pair : [])));
  matches.forEach((match, i) => {
    const want = asked[i];
    if (want === undefined) return;
    if (match.kind === 'press' && !doubtful.has(want.position)) {
      pressed.set(want.position, sources[match.index] ?? []);
      taken.add(match.index);
    } else if (match.kind !== 'missed' || canSend(want.position, inputs)) again.push(want);
  });
  const [first] = again;
  if (first !== undefined) {
    const names = again.map(({ position }) => position);
    findings.push(
      makeFinding('capture-press-again', {
        place: first.line.place,
        detail: `The press test does not tell what ${names.join(', ')} ${names.length === 1 ? 'sends' : 'send'} (line ${first.line.at}): a control was not pressed, or not long enough.`,
        wayOut: `Press ${names.join(', ')} again with fetch, one after the other; or take the lines of controls that the device lacks out of the press test.`,
      }),
    );
  }
  const stray = groups.filter((_, j) => !taken.has(j) && again.length === 0);
  if (stray.length > 0 && asked.length > 0) {
    findings.push(
      makeFinding('capture-stray-press', {
        ...(asked[0] === undefined ? {} : { place: asked[0].line.place }),
        detail: `Something else was pressed too: ${stray.map(({ sent }) => sent.map((one) => codeName(one.kind, one.number) + (one.side ?? '')).join(' with ')).join(', ')}.`,
        wayOut:
          'If one of them is a control that the list lacks, give it a position such as extra-1 and its code: in the profile.',
      }),
    );
  }
  return { pressed, unplaced: again.map(({ position }) => position) };
}

function sourceOf(sent: Sent, chosen: readonly ChosenInput[]): ControlSource | undefined {
  const from = chosen.find(({ kernel }) => kernel.event === sent.event);
  if (from === undefined) return undefined;
  return makeSource(
    { kind: sent.kind, name: codeName(sent.kind, sent.number), number: sent.number },
    from.input.name,
    sent.side,
  );
}

/** 0 by convention, 1 for a code that no position has, 2 for that of a neighbour, 4 for that of any other position. */
function matchCost(position: Position | undefined, groups: readonly PressGroup[], j: number): number {
  const group = groups[j];
  if (position === undefined || group === undefined) return Infinity;
  // One control is asked for once: what was sent before is the same control pressed again.
  if (groups.slice(0, j).some((before) => before.sent.some((one) => group.sent.some((other) => sameSent(one, other)))))
    return Infinity;
  if ((position === 'lid') !== group.sent.some(({ kind }) => kind === 'switch')) return Infinity;
  if (position.startsWith('stick-') && !group.sent.some(({ kind }) => kind === 'axis')) return Infinity;
  if (group.sent.some((sent) => meant(position, sent))) return 0;
  const others = positions.filter((other) => group.sent.some((sent) => meant(other, sent)));
  if (others.length === 0) return 1;
  return crossed.some(([a, b]) => (a === position && others.includes(b)) || (b === position && others.includes(a)))
    ? 2
    : 4;
}

function meant(position: Position, sent: Sent): boolean {
  return positionCodes[position].some((text) => {
    const { name, side } = splitControlCode(text);
    const code = eventCode(name);
    return code?.kind === sent.kind && code.number === sent.number && (side === undefined || side === sent.side);
  });
}

function canSend(position: Position | undefined, inputs: readonly DeviceInput[]): boolean {
  if (position === undefined) return false;
  return positionCodes[position].some((text) => {
    const code = eventCode(splitControlCode(text).name);
    return code !== undefined && findInput(inputs, code.kind, code.number) !== undefined;
  });
}
