import type { ScopePoint } from '../model/resolved.ts';
import type { Lens, Spelled } from '../dialect/contract.ts';
import { placeValues } from '../dialect/place-values.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Compiled, Edit, FidelityEntry, WholeFile } from '../model/compiled.ts';
import type { Decision, Instance, Resolved } from '../model/resolved.ts';
import { settings } from '../vocabulary/registry.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { compileExtra } from './compile-extra.ts';
import { compileJoint } from './compile-joint.ts';
import { findDisputes } from './find-disputes.ts';
import { reportLoss } from './report-loss.ts';

/** By instance name. An instance without a lens (its dialect is broken) is passed over; its findings are made. */
export type Lenses = ReadonlyMap<string, Lens>;

/**
 * Settings to keys, for every instance: at the scopes that the frontend has, in the fewest keys that give each system,
 * core and game what the layers say. What cannot be said is in `fidelity`, with the reason, never silently dropped.
 */
export function compile(resolved: Resolved, lenses: Lenses): Outcome<Compiled> {
  const edits: Edit[] = [];
  const fidelity: FidelityEntry[] = [];
  const wholeFiles: WholeFile[] = [];
  for (const instance of resolved.instances) {
    const lens = lenses.get(instance.name);
    if (lens === undefined) continue;
    for (const setting of settings) {
      if (!setting.roles.some((role) => instance.roles.includes(role))) continue;
      for (const item of resolved.items(instance, setting.id)) {
        compileSetting(resolved, instance, lens, setting, item, edits, fidelity);
      }
    }
    const joint = compileJoint(resolved, instance, lens);
    edits.push(...joint.edits);
    wholeFiles.push(...joint.wholeFiles);
    fidelity.push(...joint.fidelity);
  }
  const extra = compileExtra(resolved, lenses);
  edits.push(...extra.value);
  const findings: Finding[] = [...extra.findings, ...findDisputes(edits), ...reportLoss(resolved, fidelity)];
  return { value: { resolved, edits, wholeFiles, fidelity }, findings };
}

function pointKey(point: ScopePoint): string {
  return JSON.stringify([point.core, point.system, point.game]);
}

function compileSetting(
  resolved: Resolved,
  instance: Instance,
  lens: Lens,
  setting: SettingDefinition,
  item: string | undefined,
  edits: Edit[],
  fidelity: FidelityEntry[],
): void {
  const points = resolved.points(instance, setting.id, item);
  const decisions = new Map<string, Decision>();
  for (const point of points) {
    const decision = resolved.decide(instance, setting.id, point, item);
    if (decision !== undefined) decisions.set(pointKey(point), decision);
  }
  if (decisions.size === 0) return;
  const common = { setting: setting.id, ...(item === undefined ? {} : { item }), instance: instance.name };
  const available = lens.scopes(setting.id);
  if (available.length === 0) {
    for (const [key, decision] of decisions) {
      const point = points.find((p) => pointKey(p) === key) ?? {};
      fidelity.push({
        ...common,
        scope: point,
        fidelity: { kind: 'cannot', why: `${instance.dialect.data.dialect} has no entry for it` },
        decision,
      });
      break;
    }
    return;
  }
  // Values are compared by content: two layers that say the same thing are one value, the first's origin is told.
  const byContent = new Map<string, Decision>();
  const order = instance.dialect.data.order ?? ['instance', 'core', 'system', 'game'];
  const placed = placeValues<string>(order, available, points, (point) => {
    const decision = decisions.get(pointKey(point));
    if (decision === undefined) return undefined;
    const content = JSON.stringify(decision.value);
    if (!byContent.has(content)) byContent.set(content, decision);
    return content;
  });
  for (const { scope, value } of placed.keys) {
    const decision = decisionFor(scope, value, points, decisions, byContent);
    if (decision === undefined) continue;
    const spelled = lens.spell(setting.id, decision.value, scope, item);
    fidelity.push({ ...common, scope, fidelity: fidelityOf(spelled), decision });
    if (spelled.kind === 'cannot') continue;
    for (const write of spelled.writes) {
      edits.push({
        instance: instance.name,
        file: write.file,
        path: write.path,
        key: write.key,
        value: write.value,
        ...(write.record === undefined ? {} : { record: write.record }),
        setting: setting.id,
        ...(item === undefined ? {} : { item }),
        scope,
        origin: decision.origin,
        decision,
        dialectPlace: write.dialectPlace,
        rule: write.rule,
      });
    }
  }
  for (const point of placed.cannot) {
    const decision = decisions.get(pointKey(point));
    if (decision === undefined) continue;
    const narrow =
      point.game !== undefined
        ? 'one game'
        : point.system !== undefined
          ? 'one system'
          : point.core !== undefined
            ? 'one core'
            : 'all games at once';
    fidelity.push({
      ...common,
      scope: point,
      fidelity: {
        kind: 'cannot',
        why: `${instance.dialect.data.dialect} cannot say it for ${narrow} (${available.join(', ')} only)`,
      },
      decision,
    });
  }
}

/** The decision at the very scope, if it holds this value there; else the first point that a wider key serves. */
function decisionFor(
  scope: ScopePoint,
  content: string,
  points: readonly ScopePoint[],
  decisions: ReadonlyMap<string, Decision>,
  byContent: ReadonlyMap<string, Decision>,
): Decision | undefined {
  const exact = decisions.get(pointKey(scope));
  if (exact !== undefined && JSON.stringify(exact.value) === content) return exact;
  for (const point of points) {
    const inside = (['core', 'system', 'game'] as const).every(
      (name) => scope[name] === undefined || scope[name] === point[name],
    );
    const decision = inside ? decisions.get(pointKey(point)) : undefined;
    if (decision !== undefined && JSON.stringify(decision.value) === content) return decision;
  }
  return byContent.get(content);
}

function fidelityOf(spelled: Spelled): FidelityEntry['fidelity'] {
  switch (spelled.kind) {
    case 'exact':
      return { kind: 'exact' };
    case 'approximated':
      return { kind: 'approximated', how: spelled.how };
    case 'cannot':
      return { kind: 'cannot', why: spelled.why, code: spelled.code };
  }
}
