import type { Lens } from '../dialect/contract.ts';
import type { Instance, Resolved, ScopePoint } from '../model/resolved.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import type { CardText } from './card-text.ts';
import { gamesWithFiles } from './games-with-files.ts';
import type { LookedAt } from './read-card.ts';

/**
 * Every setting that the lens can say, for the whole instance, for each core and system that it may run, and for each
 * game that has a file of its own on the card. The options of cores and the lists of games are those that the card has.
 */
export function everyPlace(resolved: Resolved, instance: Instance, lens: Lens, card: CardText): readonly LookedAt[] {
  const { systems = {}, cores = {} } = resolved.catalog?.data ?? {};
  const runs = Object.entries(cores).filter(([core]) => instance.cores?.has(core) ?? true);
  const points: Readonly<Record<'instance' | 'core' | 'system' | 'game', readonly ScopePoint[]>> = {
    instance: [{}],
    core: runs.map(([core]) => ({ core })),
    system: Object.keys(systems)
      .filter((system) => instance.cores === undefined || runs.some(([, core]) => core.systems.includes(system)))
      .map((system) => ({ system })),
    game: gamesWithFiles(resolved, instance, lens, card).games,
  };
  card.know(instance, lens, [...points.instance, ...points.core]);
  return lens.settings().flatMap((setting) => {
    const definition = settingById(setting);
    if (definition === undefined || !definition.roles.some((role) => instance.roles.includes(role))) return [];
    const named = definition.type.kind === 'cores' ? (['system'] as const) : lens.scopes(setting);
    return named.flatMap((scope) =>
      points[scope].flatMap((point) =>
        itemsOf(definition, lens, card, point).map((item): LookedAt => ({
          setting,
          ...(item === undefined ? {} : { item }),
          instance: instance.name,
          scope: point,
          decision: resolved.decide(instance, setting, point, item),
        })),
      ),
    );
  });
}

function itemsOf(
  { id, type }: SettingDefinition,
  lens: Lens,
  card: CardText,
  point: ScopePoint,
): readonly (string | undefined)[] {
  if (type.kind === 'options') return lens.optionItems(id, point, card.keys);
  if (type.kind === 'lists') return lens.recordItems(id, card.list, card.keys);
  return [undefined];
}
