import fc from 'fast-check';
import { stringify } from 'yaml';
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

/**
 * A house that sets some of the settings of an entry, each to a value that it was labelled with: what a learner has seen, in
 * another company. Actions lie on controls of their own, as `check` asks.
 */
export function anyHouse(entry: CorpusEntry): fc.Arbitrary<string> {
  const bySetting = new Map<string, Label[]>();
  for (const label of [...entry.labels.values()].flat())
    if (label.system === undefined) bySetting.set(label.set, [...(bySetting.get(label.set) ?? []), label]);
  const choices = [...bySetting.values()].map((labels) => fc.option(fc.constantFrom(...labels), { freq: 3 }));
  return fc.tuple(...choices).map((chosen) => {
    const house: Tree = { house: 'any-house', format: 1, hotkeys: { hold: 'mode' } };
    const taken = new Set(['select']);
    for (const label of chosen) {
      if (label === null) continue;
      const bind = label.set.startsWith('hotkeys.bind.') && label.to !== 'none';
      if (bind && taken.has(label.to)) continue;
      if (bind) taken.add(label.to);
      const steps = label.set.split('.');
      let at = house;
      for (const step of steps.slice(0, -1)) at = (at[step] ??= {}) as Tree;
      at[steps.at(-1) ?? ''] = written(label);
    }
    return stringify(house);
  });
}
