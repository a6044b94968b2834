import type { Value } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { ReadBack } from './contract.ts';

/**
 * The hold control of a frontend that writes it into every hotkey: the one control that all chords share. Hotkeys of
 * one control say nothing of it. When chords share several, the one that is set counts.
 */
export function readHold(hotkeys: readonly ReadBack[], hold: Position | undefined): ReadBack {
  const chords: (readonly Position[])[] = [];
  for (const read of hotkeys) {
    if (read.kind !== 'value' || read.value.kind !== 'press') continue;
    const { press } = read.value;
    if (press.kind === 'chord') chords.push(press.positions);
    else if (press.kind === 'with-hold' && hold !== undefined) chords.push([hold, press.position]);
  }
  const [first, ...others] = chords;
  if (first === undefined) return { kind: 'absent' };
  const common = first.filter((position) => others.every((chord) => chord.includes(position)));
  const found = hold !== undefined && common.includes(hold) ? hold : common.length === 1 ? common[0] : undefined;
  if (found === undefined) return { kind: 'unreadable', keys: [] };
  const value: Value = { kind: 'control', position: found };
  return { kind: 'value', value };
}
