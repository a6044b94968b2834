import type { SideValue } from '../../../src/model/comparison.ts';
import type { ScopePoint } from '../../../src/model/resolved.ts';
import type { Value } from '../../../src/model/value.ts';
import { settings } from '../../../src/vocabulary/registry.ts';

const sets = new Set(
  settings.flatMap(({ id, type }) =>
    type.kind === 'lists' ||
    (type.kind === 'texts' && (type.of === 'game' || type.of === 'system')) ||
    (type.kind === 'words' && !type.ordered)
      ? [id]
      : [],
  ),
);

export type Names = ReadonlyMap<string, string>;

/** By another road than the comparison's own: a value as plain text, in which what means the same is written the same. */
export function plain(setting: string, value: Value | undefined, hold: string | undefined, names: Names): string {
  if (value === undefined) return 'left alone';
  if (value.kind === 'core') return `core ${names.get(value.instance) ?? value.instance}/${value.core}`;
  if (value.kind === 'words' && sets.has(setting)) return `words ${[...value.words].sort().join()}`;
  if (value.kind === 'texts' && sets.has(setting)) return `texts ${[...value.texts].sort().join()}`;
  if (value.kind !== 'press') return JSON.stringify(value);
  const { press } = value;
  const pressed = press.kind === 'chord' ? [...new Set(press.positions)].sort() : [press.position];
  const held = press.kind === 'with-hold' || (pressed.length === 2 && pressed.some((one) => one === hold));
  const rest = held && press.kind === 'chord' ? pressed.filter((one) => one !== hold) : pressed;
  return `${held ? 'hold+' : press.kind === 'alone' ? 'alone ' : ''}${rest.join('+')} ${value.while}`;
}

/** From the narrowest on, by the ranks of layers: what names the game, then the system, then the core, then nothing. */
export function upwards({ core, system, game }: ScopePoint): readonly ScopePoint[] {
  const trail: ScopePoint[] = [];
  const withCore = core === undefined ? undefined : { core };
  if (system !== undefined && game !== undefined) {
    if (withCore !== undefined) trail.push({ ...withCore, system, game });
    trail.push({ system, game });
  }
  if (system !== undefined) {
    if (withCore !== undefined) trail.push({ ...withCore, system });
    trail.push({ system });
  }
  if (withCore !== undefined) trail.push(withCore);
  trail.push({});
  return trail;
}

export const valueOf = (side: SideValue): Value | undefined => (side.kind === 'value' ? side.value : undefined);

export function sorted(point: ScopePoint): unknown {
  return [point.core, point.system, point.game];
}
