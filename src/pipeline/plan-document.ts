import { readSource } from '../1-load/find-file.ts';
import { readPlan } from '../1-load/read-plan.ts';
import { sealPlan } from '../4-plan/seal-plan.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { Plan } from '../model/plan.ts';

/** A plan as a sealed text. */
export function planDocument(plan: Plan): string {
  return sealPlan(plan);
}

/** A plan out of a file. Errors: `bad-plan`, and those of reading. */
export function openPlan(files: Files, path: HostPath, name: string): Outcome<Plan | undefined> {
  const source = readSource(files, path, name);
  return source.value === undefined ? { value: undefined, findings: source.findings } : readPlan(source.value);
}

/** The secrets that a plan puts on the card, each once. */
export function secretsOfPlan(plan: Plan): readonly string[] {
  const names = new Set<string>();
  for (const file of plan.files) {
    if (file.act === 'change')
      for (const change of file.changes) if (change.op !== 'remove') for (const name of change.secrets) names.add(name);
    if (file.act === 'whole') for (const piece of file.pieces) if (piece.kind !== 'text') names.add(piece.name);
  }
  for (const { keys } of plan.record.files)
    for (const { before, written } of keys)
      for (const held of [before, written])
        if (held.kind === 'to-hash') for (const name of held.secrets) names.add(name);
  return [...names].sort();
}
