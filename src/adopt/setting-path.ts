import { valueAt } from '../model/value-at.ts';
import type { ScopePoint } from '../model/resolved.ts';
import { settingById, settings } from '../vocabulary/registry.ts';
import { groups, sectionPath } from '../vocabulary/sections.ts';
import type { YamlPath } from '../yaml-edit/edit-yaml.ts';

/** Where a setting stands below the top of a layer or of an `only` block, and what its block must still select. */
export interface SettingPath {
  readonly path: readonly string[];
  readonly rest: ScopePoint;
}

/** By system for cores, by core for their options, by name for lists. Undefined: it cannot be said for this scope. */
export function settingPath(id: string, item: string | undefined, scope: ScopePoint): SettingPath | undefined {
  const section = sectionPath(id);
  const { core, system, game } = scope;
  const named = (member: string | undefined): member is string => member !== undefined;
  switch (settingById(id)?.type.kind) {
    case 'cores':
      if (!named(system)) return undefined;
      // A game's path is counted from its system's folder, so that its block must name the system too.
      return { path: [...section, system], rest: game === undefined ? dropAbsent({ core }) : scope };
    case 'options':
      return named(core) && named(item)
        ? { path: [...section, core, item], rest: dropAbsent({ system, game }) }
        : undefined;
    case 'lists':
      return named(item) ? { path: [...section, item], rest: scope } : undefined;
    default:
      return { path: section, rest: scope };
  }
}

function dropAbsent(point: { readonly [K in keyof ScopePoint]: ScopePoint[K] | undefined }): ScopePoint {
  return {
    ...(point.core === undefined ? {} : { core: point.core }),
    ...(point.system === undefined ? {} : { system: point.system }),
    ...(point.game === undefined ? {} : { game: point.game }),
  };
}

const heads = ['profile', 'house', 'format', 'name', 'extends', 'catalog', 'device', 'frontends'];
const tails = ['only', 'allow', 'extra', 'refit'];

/** The order in which a person would write the members beside the first one of a path that is not there yet. */
export function memberOrder(data: unknown, path: YamlPath): readonly string[] {
  let at = data;
  const above: (string | number)[] = [];
  for (const step of path) {
    const next = valueAt(at, [step]);
    if (next === undefined) break;
    above.push(step);
    at = next;
  }
  const names = above[0] === 'only' ? above.slice(2) : above;
  if (names.length === 0) return above.length === 0 ? [...heads, ...groups, ...tails] : ['for', ...groups];
  const below = settings
    .map(({ id }) => sectionPath(id))
    .filter((section) => names.every((name, k) => section[k] === name))
    .flatMap((section) => section.slice(names.length, names.length + 1));
  return [...new Set(below)];
}
