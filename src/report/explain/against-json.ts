import type { SideValue } from '../../model/comparison.ts';
import type { Explanation, Road, RoadEnd } from '../../model/parting.ts';
import { placeJson } from '../json-findings.ts';

function valueJson(value: SideValue): object {
  if (value.kind === 'left-alone') return { kind: value.kind };
  return value.kind === 'unreadable'
    ? { kind: value.kind, text: value.text }
    : { kind: value.kind, value: value.value, text: value.text };
}

function endJson(end: RoadEnd): object {
  if (end.kind !== 'written') return end;
  return {
    kind: end.kind,
    keys: end.keys.map(({ path, key, text, dialect }) => ({
      path,
      key: key ?? null,
      value: text ?? null,
      ...(dialect === undefined ? {} : { dialect: placeJson(dialect) }),
    })),
    ...(end.near === undefined ? {} : { near: end.near }),
  };
}

function roadJson({ unasked, lines, passedOver, control, value, dialect, end }: Road): object {
  return {
    value: valueJson(value),
    ...(unasked === undefined ? {} : { unasked }),
    lines: lines.map(({ origin, text, fate, why }) => ({
      from: { ...placeJson(origin.place), layer: origin.layer },
      text,
      fate,
      ...(why === undefined ? {} : { why }),
    })),
    rejected: passedOver,
    ...(control === undefined ? {} : { control }),
    dialect: { name: dialect.name, version: dialect.version, frontend: dialect.frontend ?? null },
    end: endJson(end),
  };
}

/** What `schema/explain-output.schema.json` calls `against`. */
export function againstJson({ a, b, pairs, cells }: Explanation): object {
  return {
    a: a.shown,
    b: b.shown,
    pairs: pairs.map((pair) => ({ a: pair.a ?? null, b: pair.b ?? null })),
    cells: cells.map((cell) => ({
      setting: cell.setting,
      ...(cell.item === undefined ? {} : { item: cell.item }),
      scope: cell.scope,
      pair: { a: cell.pair.a ?? null, b: cell.pair.b ?? null },
      a: roadJson(cell.a),
      b: roadJson(cell.b),
      parting: cell.parting ?? null,
    })),
  };
}
