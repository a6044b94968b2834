import { syntaxes } from '../../syntax/registry.ts';
import type { Proposal, Series } from '../contract.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { knownValues } from './known-values.ts';
import { inCopy, replayLens } from './replay-lens.ts';
import type { LearntParts } from './replay-lens.ts';

/**
 * The proof of every proposal: our own lens, given the labels' values, spells into every copy what stands there already, so
 * that not one byte would change. What fails it is only possible.
 */
export function provenByReplay(table: KeyTable, series: readonly Series[], parts: LearntParts): readonly Proposal[] {
  const { proposals, files } = parts;
  const isLeftOut = leftOutIn(table);
  const failed = new Map<Proposal, string>();
  for (const one of series) {
    const lens = replayLens(one, parts);
    for (const proposal of proposals)
      for (const { copy, value } of knownValues(one, proposal)) {
        // What a program leaves out is as it comes; that it is one value the claims have shown.
        // One that only ever went away may be lost: a change must have written it.
        const written = one.labels.some(
          (label) =>
            label.told === 'changed' &&
            label.setting.id === proposal.setting.id &&
            !isLeftOut(proposal, one, label.copy),
        );
        if (written && isLeftOut(proposal, one, copy)) continue;
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
          if (tree === undefined || (write.value !== undefined && tree.get(write.key) === undefined)) continue;
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

/** Whether a copy has the files of a proposal, and none of its keys. */
function leftOutIn({ observations, rows }: KeyTable): (proposal: Proposal, series: Series, copy: number) => boolean {
  const byKey = new Map(rows.map((row) => [`${row.file}\0${row.key}`, row]));
  return ({ keys }, series, copy) => {
    const at = observations.findIndex((one) => one.series === series && one.copy === copy);
    return keys.every(
      ({ file, key }) =>
        series.copies[copy]?.texts.has(file) === true && byKey.get(`${file}\0${key}`)?.held[at] === undefined,
    );
  };
}
