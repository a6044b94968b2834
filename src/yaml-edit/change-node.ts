import type { Hindrance } from '../syntax/yaml/yaml-changes.ts';
import { listDifference } from '../syntax/shared/list-difference.ts';
import type { YamlMap, YamlNode, YamlSeq } from '../syntax/yaml/yaml-model.ts';
import type { YamlPlan } from '../syntax/yaml/yaml-plan.ts';
import type { YamlSlot } from '../syntax/yaml/yaml-tree.ts';
import type { YamlValue } from '../syntax/yaml/yaml-value.ts';
import { holdsValue } from './plain-yaml.ts';

/**
 * Makes a node hold a value, touching only what differs: members and items that are equal keep their lines and
 * comments. `shared`: aliases refer to the node or to one around it.
 */
export function changeNode(
  plan: YamlPlan,
  slot: YamlSlot,
  node: YamlNode,
  value: YamlValue,
  shared: boolean,
): Hindrance {
  if (holdsValue(node, value)) return undefined;
  if (shared) return { kind: 'shared' };
  if (node.kind === 'map' && node.layout !== 'bare' && value.kind === 'map' && value.members.length > 0) {
    return changeMap(plan, slot, node, value.members);
  }
  if (node.kind === 'seq' && value.kind === 'list' && value.items.length > 0 && node.items.length > 0) {
    return changeSeq(plan, slot, node, value.items);
  }
  return plan.replace(slot, node, value);
}

function changeMap(
  plan: YamlPlan,
  slot: YamlSlot,
  map: YamlMap,
  members: readonly (readonly [string, YamlValue])[],
): Hindrance {
  const wanted = new Map(members);
  for (const pair of map.pairs) {
    const value = pair.name === undefined ? undefined : wanted.get(pair.name);
    const hindrance =
      value === undefined
        ? plan.removePair(map, pair, slot)
        : changeNode(plan, { kind: 'pair', map, pair, above: slot }, pair.value, value, pair.value.shared);
    if (hindrance !== undefined) return hindrance;
  }
  for (const [name, value] of members) {
    if (map.members.has(name)) continue;
    const hindrance = plan.add(slot, map, [name], value);
    if (hindrance !== undefined) return hindrance;
  }
  return undefined;
}

function changeSeq(plan: YamlPlan, slot: YamlSlot, seq: YamlSeq, items: readonly YamlValue[]): Hindrance {
  const { replaced, removed, added, after } = listDifference(seq.items.length, items.length, (a, b) => {
    const [old, fresh] = [seq.items[a]?.value, items[b]];
    return old !== undefined && fresh !== undefined && holdsValue(old, fresh);
  });
  for (const [from, to] of replaced) {
    const item = seq.items[from];
    const value = items[to];
    if (item === undefined || value === undefined) continue;
    const place: YamlSlot = { kind: 'item', seq, item, index: from, above: slot };
    const hindrance = changeNode(plan, place, item.value, value, item.value.shared);
    if (hindrance !== undefined) return hindrance;
  }
  for (const index of removed) {
    const hindrance = plan.removeItem(seq, index, slot, true);
    if (hindrance !== undefined) return hindrance;
  }
  const fresh = added.map((index) => items[index]).filter((item) => item !== undefined);
  return fresh.length === 0 ? undefined : plan.insertItems(seq, after, fresh, slot, true);
}
