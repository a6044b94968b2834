import type { Press, Value } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { DialectDocument } from '../../model/document.ts';
import type { Cannot, Moment } from './contract.ts';

export type HoldManner = 'global' | 'each' | 'none';

/** How the frontend treats the hold control; where the dialect is silent, global if it spells the hold at all. */
export function holdManner(dialect: DialectDocument): HoldManner {
  return dialect.data.controls?.hold ?? (Object.hasOwn(dialect.data.settings, 'hotkeys.hold') ? 'global' : 'none');
}

/**
 * The controls to write for a hotkey. With one hold control for all (`global`) the frontend asks for it with every
 * hotkey, so it is never written, and nothing without it can be said. With `each` it is written into every hotkey.
 * With `none` it is a control like any other, so it takes a codec that can write several.
 */
export function pressed(value: Value, at: Moment, several: boolean): readonly Position[] | Cannot {
  if (value.kind === 'control') return [value.position];
  if (value.kind !== 'press')
    return { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no control` };
  const { press } = value;
  const hold = at.context.hold;
  const manner = holdManner(at.context.dialect);
  const cannot = (why: string): Cannot => ({ kind: 'cannot', code: 'not-expressible', why });
  if (manner === 'global') {
    switch (press.kind) {
      case 'with-hold':
        return [press.position];
      case 'alone':
        return cannot(`it asks for the hold control with every hotkey, so ${press.position} alone cannot be said`);
      case 'chord': {
        const others = press.positions.filter((position) => position !== hold);
        if (hold === undefined || others.length === press.positions.length) {
          return cannot('it asks for the hold control with every hotkey, so a chord without it cannot be said');
        }
        return others.length === 1 || several
          ? others
          : cannot('it takes one control with the hold control, not several');
      }
    }
  }
  const written = several || manner === 'each';
  switch (press.kind) {
    case 'alone':
      return [press.position];
    case 'chord':
      return written || press.positions.length === 1
        ? press.positions
        : cannot('it takes one control for a hotkey, not several');
    case 'with-hold':
      if (!written) return cannot('it knows no hold control, and takes one control for a hotkey');
      return hold === undefined
        ? cannot('the hold control has to be written with it, and none is set')
        : [...new Set([hold, press.position])];
  }
}

/** What pressing these controls is to this frontend, the simplest first. */
function pressesOf(positions: readonly Position[], at: Moment): readonly Press[] {
  const [first, second] = positions;
  const hold = at.context.hold;
  if (first === undefined) return [];
  if (holdManner(at.context.dialect) === 'global') {
    if (second === undefined) return [{ kind: 'with-hold', position: first }];
    return hold === undefined ? [] : [{ kind: 'chord', positions: [hold, ...positions] }];
  }
  if (second === undefined) return [{ kind: 'alone', position: first }];
  const others = positions.filter((position) => position !== hold);
  const chord: Press = { kind: 'chord', positions };
  return hold !== undefined && positions.length === 2 && others.length === 1 && others[0] !== undefined
    ? [{ kind: 'with-hold', position: others[0] }, chord]
    : [chord];
}

/** The values of the setting that these controls are; of a hotkey with `while`, each way of it. */
export function controlValues(positions: readonly Position[], at: Moment): readonly Value[] {
  const { type } = at.setting;
  if (type.kind !== 'bind')
    return positions.length === 1 && positions[0] !== undefined ? [{ kind: 'control', position: positions[0] }] : [];
  const whiles = type.whiles ? (['held', 'toggled'] as const) : (['press'] as const);
  return pressesOf(positions, at).flatMap((press) =>
    whiles.map((manner): Value => ({ kind: 'press', press, while: manner })),
  );
}
