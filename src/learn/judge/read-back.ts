import type { Proposal } from '../contract.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { inCopy, replayLens } from './replay-lens.ts';
import type { LearntParts } from './replay-lens.ts';

/** Texts that our lens reads only where it knows what they stand for: a folder of a mounted part, a secret's name. */
const unread: ReadonlySet<string> = new Set(['place', 'secret']);

/**
 * The proof of proposals that no label tells: our own lens reads a value in the last copy where they have a key. A text that
 * it cannot read is spelled otherwise than was thought, so that the entry is only possible. `parts` holds them all.
 */
export function readBack(table: KeyTable, proposals: readonly Proposal[], parts: LearntParts): readonly Proposal[] {
  const [where] = table.observations;
  if (where === undefined || proposals.length === 0) return proposals;
  const lens = replayLens(where.series, {
    ...parts,
    proposals: parts.proposals.filter(({ open }) => open === undefined),
  });
  const texts = new Map(
    table.rows.map((row) => [`${row.file}\0${row.key}`, row.held.findLast((held) => held !== undefined)]),
  );
  return proposals.map((proposal) => {
    if (proposal.open !== undefined || unread.has(proposal.setting.type.kind)) return proposal;
    const read = lens.read(proposal.setting.id, proposal.scope, (path, key) => texts.get(`${inCopy(path)}\0${key}`));
    return read.kind === 'value'
      ? proposal
      : { ...proposal, grade: 'possible', evidence: [...proposal.evidence, 'its text is no value that is spelled so'] };
  });
}
