import fc from 'fast-check';
import { stringify } from 'yaml';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { settingById } from '../../../src/vocabulary/registry.ts';
import type { CorpusEntry, Label } from './corpus-entry.ts';

type Tree = Record<string, unknown>;

/** A value of a label as a house has it. */
function written({ set, to, while: manner }: Label): unknown {
  const type = settingById(set)?.type;
  if (type?.kind === 'boolean') return to === 'true';
  if (type?.kind === 'number') return Number(to);
  if (type?.kind === 'words' || type?.kind === 'texts') return to === '' ? [] : to.split(', ');
  if (type?.kind === 'bind' && type.whiles && to !== 'none') return { control: to, while: manner ?? 'held' };
  return to;
}

/** Writes a value at its place in a tree of sections. */
function put(tree: Tree, label: Label): void {
  const steps = label.set.split('.');
  let at = tree;
  for (const step of steps.slice(0, -1)) at = (at[step] ??= {}) as Tree;
  at[steps.at(-1) ?? ''] = written(label);
}

/**
 * A house that sets some of the settings of an entry, each to a value that it was labelled with: what a learner has seen, in
 * another company, and with one of these hold controls. Actions lie on controls of their own, as `check` asks.
 */
export function anyHouse(entry: CorpusEntry, holds: readonly Position[]): fc.Arbitrary<string> {
  const bySetting = new Map<string, Label[]>();
  for (const label of [...entry.labels.values()].flat()) {
    const row = `${label.set} ${label.system ?? ''}`;
    bySetting.set(row, [...(bySetting.get(row) ?? []), label]);
  }
  const choices = [...bySetting.values()].map((labels) => fc.option(fc.constantFrom(...labels), { freq: 3 }));
  return fc.tuple(fc.constantFrom(...holds), ...choices).map(([hold, ...chosen]) => {
    const house: Tree = { house: 'any-house', format: 1, hotkeys: { hold } };
    const only = new Map<string, Tree>();
    const taken = new Set<unknown>([hold]);
    for (const label of chosen) {
      if (typeof label !== 'object' || label === null) continue;
      const bind = label.set.startsWith('hotkeys.bind.') && label.to !== 'none';
      if (bind && taken.has(label.to)) continue;
      if (bind) taken.add(label.to);
      // What a system has like the rest of the device gets no key of its own: what stands there on a card is told to hide ours.
      const isLikeTheRest = chosen.some(
        (other) =>
          typeof other === 'object' &&
          other?.set === label.set &&
          other.system === undefined &&
          JSON.stringify(written(other)) === JSON.stringify(written(label)),
      );
      if (label.system !== undefined && isLikeTheRest) continue;
      if (label.system === undefined) put(house, label);
      else {
        const block = only.get(label.system) ?? { for: { system: label.system } };
        only.set(label.system, block);
        put(block, label);
      }
    }
    return stringify(only.size === 0 ? house : { ...house, only: [...only.values()] });
  });
}
