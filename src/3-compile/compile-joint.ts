import type { Lens } from '../dialect/contract.ts';
import type { Edit, FidelityEntry, WholeFile } from '../model/compiled.ts';
import type { Decision, Instance, Resolved, ScopePoint } from '../model/resolved.ts';

export interface Joint {
  readonly edits: readonly Edit[];
  readonly wholeFiles: readonly WholeFile[];
  readonly fidelity: readonly FidelityEntry[];
}

/** What several settings say together: keys computed from them, and files made from templates. */
export function compileJoint(resolved: Resolved, instance: Instance, lens: Lens): Joint {
  const edits: Edit[] = [];
  const wholeFiles: WholeFile[] = [];
  const fidelity: FidelityEntry[] = [];
  for (const scope of scopesOf(resolved, instance, lens)) {
    const decide = (setting: string): Decision | undefined => resolved.decide(instance, setting, scope);
    const value = (setting: string): Decision['value'] | undefined => decide(setting)?.value;
    const lead = (settings: readonly string[]): Decision | undefined =>
      settings.map(decide).find((decision) => decision !== undefined);

    for (const { settings, spelled } of lens.computed(value, scope)) {
      const decision = lead(settings);
      if (decision === undefined) continue;
      if (spelled.kind === 'cannot') {
        fidelity.push({
          setting: decision.setting,
          instance: instance.name,
          scope,
          fidelity: { kind: 'cannot', why: spelled.why },
          decision,
        });
        continue;
      }
      if (spelled.kind === 'approximated')
        fidelity.push({
          setting: decision.setting,
          instance: instance.name,
          scope,
          fidelity: { kind: 'approximated', how: spelled.how },
          decision,
        });
      for (const write of spelled.writes) {
        edits.push({
          instance: instance.name,
          file: write.file,
          path: write.path,
          key: write.key,
          value: write.value,
          setting: decision.setting,
          scope,
          origin: decision.origin,
          decision,
          dialectPlace: write.dialectPlace,
          rule: write.rule,
        });
      }
    }
    for (const { file, settings, made, dialectPlace, rule } of lens.wholeFiles(value, scope)) {
      const decision = lead(settings);
      if (decision === undefined) continue;
      if (made.kind === 'cannot')
        fidelity.push({
          setting: decision.setting,
          instance: instance.name,
          scope,
          fidelity: { kind: 'cannot', why: made.why },
          decision,
        });
      else {
        const decisions = settings.map(decide).filter((one) => one !== undefined);
        wholeFiles.push({
          instance: instance.name,
          file,
          path: made.path,
          text: made.text,
          ...(made.secrets === undefined ? {} : { secrets: made.secrets }),
          mode: made.mode,
          owner: made.owner,
          origin: decision.origin,
          setting: decision.setting,
          decisions,
          dialectPlace,
          rule,
        });
      }
    }
  }
  return { edits, wholeFiles, fidelity };
}

/** The whole instance, and every narrower point that some setting of the dialect is told apart at. */
function scopesOf(resolved: Resolved, instance: Instance, lens: Lens): readonly ScopePoint[] {
  const points = new Map<string, ScopePoint>([[JSON.stringify({}), {}]]);
  for (const setting of lens.settings()) {
    for (const point of resolved.points(instance, setting)) points.set(JSON.stringify(point), point);
  }
  return [...points.values()];
}
