import type { Value } from '../../model/value.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Proposal, Series } from '../contract.ts';
import { rowName } from '../labels/setting-rows.ts';

/** The hold control of a series, where a label tells it. */
export function holdOf({ labels }: Series): Position | undefined {
  for (const { setting, value } of labels)
    if (setting.id === 'hotkeys.hold' && value.kind === 'control') return value.position;
  return undefined;
}

/** The value of a proposal's setting in every copy where the labels tell it. */
export function knownValues(
  { copies, labels }: Series,
  proposal: Proposal,
): readonly { readonly copy: number; readonly value: Value }[] {
  const own = labels.filter((label) => rowName(label) === rowName(proposal));
  const found: { copy: number; value: Value }[] = [];
  let current = own.find(({ told }) => told === 'stands')?.value;
  for (const [copy] of copies.entries()) {
    current = own.find((label) => label.copy === copy && label.told === 'changed')?.value ?? current;
    if (current !== undefined) found.push({ copy, value: current });
  }
  return found;
}
