import type { KernelInput } from './capture.ts';
import { looksLikePad } from './choose-inputs.ts';
import type { PressGroup } from './presses.ts';

/**
 * A program that merges pads makes an input of its own, and sends there what the others send. Where it lets theirs be
 * heard as well, each control sends twice: what comes from an input whose every press came from the program's too is left
 * out, since programs that play read that one.
 */
export function dropMirrored(groups: readonly PressGroup[], inputs: readonly KernelInput[]): readonly PressGroup[] {
  const pads = inputs.filter(looksLikePad);
  const isFrom = (group: PressGroup, pad: KernelInput): boolean => group.sent.some(({ event }) => event === pad.event);
  const made = pads.filter(({ virtual }) => virtual);
  const mirrored = pads.filter((pad) => {
    const own = groups.filter((group) => isFrom(group, pad));
    return !pad.virtual && own.length > 0 && made.some((one) => own.every((group) => isFrom(group, one)));
  });
  if (mirrored.length === 0) return groups;
  const dropped = new Set(mirrored.map(({ event }) => event));
  return groups.map(({ sent, at }) => ({ at, sent: sent.filter(({ event }) => !dropped.has(event)) }));
}
