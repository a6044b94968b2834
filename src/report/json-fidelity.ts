import type { FidelityEntry } from '../model/compiled.ts';
import type { ScopePoint } from '../model/resolved.ts';

export interface FidelityJson {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  readonly fidelity: 'exact' | 'approximated' | 'cannot';
  readonly why?: string;
}

export function fidelityJson(fidelity: readonly FidelityEntry[]): readonly FidelityJson[] {
  return fidelity.map((entry) => ({
    setting: entry.setting,
    ...(entry.item === undefined ? {} : { item: entry.item }),
    instance: entry.instance,
    scope: entry.scope,
    fidelity: entry.fidelity.kind,
    ...(entry.fidelity.kind === 'exact'
      ? {}
      : { why: entry.fidelity.kind === 'approximated' ? entry.fidelity.how : entry.fidelity.why }),
  }));
}
