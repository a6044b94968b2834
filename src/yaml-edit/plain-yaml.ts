import { sameYamlScalar } from '../syntax/yaml/yaml-scalar.ts';
import type { YamlNode } from '../syntax/yaml/yaml-model.ts';
import { resolved } from '../syntax/yaml/yaml-tree.ts';
import type { YamlValue } from '../syntax/yaml/yaml-value.ts';

/** A value as JSON has it. Strings stay strings: `"4.0"` is quoted where it would be read as a number. */
export type PlainYaml =
  null | boolean | number | string | readonly PlainYaml[] | { readonly [name: string]: PlainYaml };

/** A plain value as the YAML writer takes it. Members that are undefined are left out. */
export function yamlValueOf(value: PlainYaml): YamlValue {
  if (typeof value === 'string') return { kind: 'scalar', text: value };
  if (value === null || typeof value === 'boolean') return { kind: 'scalar', text: String(value), literal: true };
  if (typeof value === 'number') return { kind: 'scalar', text: numberText(value), literal: true };
  if (isList(value)) return { kind: 'list', items: value.map(yamlValueOf) };
  return { kind: 'map', members: Object.entries(value).map(([name, member]) => [name, yamlValueOf(member)] as const) };
}

function isList(value: PlainYaml): value is readonly PlainYaml[] {
  return Array.isArray(value);
}

function numberText(value: number): string {
  if (Number.isNaN(value)) return '.nan';
  if (!Number.isFinite(value)) return value > 0 ? '.inf' : '-.inf';
  return Object.is(value, -0) ? '-0' : String(value);
}

/**
 * Whether a node holds a value already. A string is also equal to a bare scalar that is spelled so, since profiles take
 * text from its source: `version: 4.0` holds "4.0".
 */
export function holdsValue(node: YamlNode, value: YamlValue): boolean {
  const own = resolved(node);
  if (value.kind === 'scalar') {
    if (own.kind !== 'scalar') return false;
    return (
      sameYamlScalar(own, value) ||
      (value.literal !== true && own.literal && own.style !== 'empty' && own.text === value.text)
    );
  }
  if (value.kind === 'list') {
    if (own.kind !== 'seq' || own.items.length !== value.items.length) return false;
    return own.items.every((item, k) => holdsNth(item.value, value.items[k]));
  }
  if (own.kind !== 'map' || own.pairs.length !== value.members.length) return false;
  return value.members.every(([name, member]) => {
    const pair = own.members.get(name);
    return pair !== undefined && holdsValue(pair.value, member);
  });
}

function holdsNth(node: YamlNode, value: YamlValue | undefined): boolean {
  return value !== undefined && holdsValue(node, value);
}
