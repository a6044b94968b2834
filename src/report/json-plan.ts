import type { Finding } from '../diagnostics/finding.ts';
import type { CardPath } from '../model/paths.ts';
import type { Plan, PlannedKey } from '../model/plan.ts';
import { findingJson } from './json-findings.ts';

/** What of a planned write is shown. */
export interface PlanShown {
  readonly plan: Plan;
  readonly news: readonly {
    readonly path: CardPath;
    readonly gone: boolean;
    readonly rewrittenBy?: string;
    readonly keys: readonly {
      readonly whose: string;
      readonly key: string;
      readonly kind: string;
      readonly line: number;
    }[];
  }[];
  readonly unreached: readonly { readonly part: string; readonly files: number; readonly keys: number }[];
}

/** What a write does or did, as one document. No secret is in it. */
export function planJson(
  version: string,
  { plan, news, unreached }: PlanShown,
  wrote: readonly CardPath[],
  findings: readonly Finding[],
): object {
  return {
    thumbwright: version,
    document: 'write',
    device: plan.device,
    card: plan.card,
    wrote,
    files: plan.files.map((file) => ({
      path: file.path,
      act: file.act,
      keys: file.keys.map(keyJson),
    })),
    changedByOthers: news.map(({ path, gone, keys, rewrittenBy }) => ({
      path,
      gone,
      ...(rewrittenBy === undefined ? {} : { rewrittenBy }),
      keys: keys.map(({ key, kind, whose, line }) => ({ key, kind, whose, line })),
    })),
    saveRisks: plan.saveRisks,
    unreached,
    findings: findings.map(findingJson),
  };
}

function keyJson(key: PlannedKey): object {
  return {
    key: key.key,
    class: key.class,
    act: key.act,
    setting: key.setting,
    ...(key.item === undefined ? {} : { item: key.item }),
    instance: key.instance,
    scope: key.scope,
    card: key.from,
    wanted: key.to,
    why: key.why,
    ...(key.origin === undefined ? {} : { origin: key.origin }),
    ...(key.cardLine === undefined ? {} : { line: key.cardLine }),
  };
}
