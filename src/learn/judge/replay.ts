import { syntaxes } from '../../syntax/registry.ts';
import type { Proposal, Series } from '../contract.ts';
import { knownValues } from './known-values.ts';
import { inCopy, replayLens } from './replay-lens.ts';
import type { LearntParts } from './replay-lens.ts';

/**
 * The proof of every proposal: our own lens, given the labels' values, spells into every copy what stands there already, so
 * that not one byte would change. What fails it is only possible.
 */
export function provenByReplay(series: readonly Series[], parts: LearntParts): readonly Proposal[] {
  const { proposals, files } = parts;
  const failed = new Map<Proposal, string>();
  for (const one of series) {
    const lens = replayLens(one, parts);
    for (const proposal of proposals)
      for (const { copy, value } of knownValues(one, proposal)) {
        const spelled = lens.spell(proposal.setting.id, value, proposal.scope);
        if (spelled.kind === 'cannot') {
          failed.set(proposal, spelled.why);
          continue;
        }
        for (const write of spelled.writes) {
          const source = one.copies[copy]?.texts.get(inCopy(write.path));
          const format = files.find(({ id }) => id === write.file)?.format;
          if (source === undefined || format === undefined) continue;
          const syntax = syntaxes[format.syntax];
          const { tree } = syntax.parse(source, format.style);
          if (tree === undefined) continue;
          const { edits } = syntax.change(tree, [
            write.value === undefined
              ? { op: 'remove', path: write.key }
              : { op: 'set', path: write.key, value: write.value },
          ]);
          if (edits.length > 0)
            failed.set(proposal, `${one.copies[copy]?.name ?? 'a copy'} has another text than it foretells`);
        }
      }
  }
  return proposals.map((proposal) => {
    const why = failed.get(proposal);
    return why === undefined
      ? proposal
      : { ...proposal, grade: 'possible', evidence: [`played back, ${why}`, ...proposal.evidence] };
  });
}
