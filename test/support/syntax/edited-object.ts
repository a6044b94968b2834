/** A step of a path: a member by name or an item by index. */
export type Step = string | number;

export type Plain = null | boolean | number | bigint | string | Date | Plain[] | Map<string, Plain>;

/** What a second reader gave, as maps, so that `__proto__` and the order of members make no trouble. */
export function plainOf(value: unknown): Plain {
  if (Array.isArray(value)) return value.map(plainOf);
  if (value instanceof Date) return `date ${value.toISOString()}`;
  if (value === null || value === undefined) return null;
  if (typeof value === 'object') return new Map(Object.entries(value).map(([name, member]) => [name, plainOf(member)]));
  if (typeof value === 'number' && Number.isNaN(value)) return 'nan';
  if (typeof value === 'boolean' || typeof value === 'number' || typeof value === 'bigint' || typeof value === 'string')
    return value;
  return typeof value;
}

/** A copy of a value in which one place holds another value, missing maps made. Undefined takes the place out. */
export function withValueAt(value: Plain, steps: readonly Step[], fresh: Plain | undefined): Plain {
  const [first, ...rest] = steps;
  if (first === undefined) return fresh ?? null;
  if (typeof first === 'number') {
    const items = Array.isArray(value) ? [...value] : [];
    if (rest.length === 0 && fresh === undefined) items.splice(first, 1);
    else items[first] = withValueAt(items[first] ?? new Map(), rest, fresh);
    return items;
  }
  const members = new Map(value instanceof Map ? value : []);
  if (rest.length === 0 && fresh === undefined) members.delete(first);
  else members.set(first, withValueAt(members.get(first) ?? new Map(), rest, fresh));
  return members;
}
