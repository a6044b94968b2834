import type { FidelityEntry } from '../model/compiled.ts';
import type { Resolved, ScopePoint } from '../model/resolved.ts';
import { settings } from '../vocabulary/registry.ts';
import { table } from './terminal/table.ts';

/** `system burdock`, `core thrush`, `the device` for the widest. */
export function scopeText(scope: ScopePoint): string {
  const parts = [
    ...(scope.core === undefined ? [] : [`core ${scope.core}`]),
    ...(scope.system === undefined ? [] : [`system ${scope.system}`]),
    ...(scope.game === undefined ? [] : [`game ${scope.game}`]),
  ];
  return parts.length === 0 ? 'all games' : parts.join(', ');
}

const signs = { exact: 'exact', approximated: 'near', cannot: 'no' } as const;

function settingName(entry: FidelityEntry): string {
  return entry.item === undefined ? entry.setting : `${entry.setting} ${entry.item}`;
}

/**
 * Setting × instance: exact, near (approximated) or no (cannot be said there); the worst where a setting has several
 * scopes. Below it, each loss with its reason.
 */
export function fidelityTable(resolved: Resolved, fidelity: readonly FidelityEntry[]): string {
  const instances = resolved.instances.map(({ name }) => name);
  const order = new Map(settings.map((setting, index) => [setting.id, index]));
  const rank = { exact: 0, approximated: 1, cannot: 2 } as const;
  const cells = new Map<string, Map<string, FidelityEntry['fidelity']['kind']>>();
  const sorted = [...fidelity].sort((a, b) => (order.get(a.setting) ?? 0) - (order.get(b.setting) ?? 0));
  for (const entry of sorted) {
    const name = settingName(entry);
    let row = cells.get(name);
    if (row === undefined) cells.set(name, (row = new Map<string, FidelityEntry['fidelity']['kind']>()));
    const before = row.get(entry.instance);
    if (before === undefined || rank[entry.fidelity.kind] > rank[before]) row.set(entry.instance, entry.fidelity.kind);
  }
  const rows = [['setting', ...instances]];
  for (const [name, row] of cells) {
    rows.push([
      name,
      ...instances.map((instance) => {
        const kind = row.get(instance);
        return kind === undefined ? '·' : signs[kind];
      }),
    ]);
  }
  return `${table(rows, '  ')}${lossText(fidelity)}`;
}

/** Every approximation and every value that cannot be said, one line each. Empty when nothing is lost. */
export function lossText(fidelity: readonly FidelityEntry[]): string {
  const lines: string[] = [];
  for (const entry of fidelity) {
    const where = `${entry.instance}, ${scopeText(entry.scope)}`;
    if (entry.fidelity.kind === 'approximated')
      lines.push(`  near  ${settingName(entry)} (${where}): ${entry.fidelity.how}\n`);
    else if (entry.fidelity.kind === 'cannot')
      lines.push(`  no    ${settingName(entry)} (${where}): ${entry.fidelity.why}\n`);
  }
  return [...new Set(lines)].join('');
}
