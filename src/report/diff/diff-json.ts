import { controlDiffers, countDifferences } from '../../model/comparison.ts';
import type { ComparedPress, Comparison, FactSide, SaidOrigin, SideValue } from '../../model/comparison.ts';
import { placeJson } from '../json-findings.ts';

function originJson(origin: SaidOrigin | undefined): object {
  if (origin === undefined) return {};
  const { place, layer, also = [] } = origin;
  return { from: { ...placeJson(place), layer, ...(also.length === 0 ? {} : { also: also.map(placeJson) }) } };
}

function valueJson(side: SideValue): object {
  switch (side.kind) {
    case 'left-alone':
      return { kind: side.kind };
    case 'unreadable':
      return { kind: side.kind, text: side.text, ...originJson(side.origin) };
    case 'value':
      return { kind: side.kind, value: side.value, text: side.text, ...originJson(side.origin) };
  }
}

function pressJson(press: ComparedPress | undefined): object | null {
  if (press === undefined) return null;
  const { positions, labels, text, origin } = press;
  return { positions, labels: labels.map((label) => label ?? null), text, ...originJson(origin) };
}

function factJson(fact: FactSide | undefined): object | null {
  if (fact === undefined) return null;
  return { text: fact.text, ...(fact.place === undefined ? {} : { from: placeJson(fact.place) }) };
}

/** What `schema/diff-output.schema.json` describes, without the members that every document has. */
export function diffJson(comparison: Comparison): object {
  const { a, b, pairs, settings, lone, facts, controls, hotkeys, cannot, hands, untold } = comparison;
  return {
    a,
    b,
    differences: countDifferences(comparison),
    pairs: pairs.map((pair) => ({ a: pair.a ?? null, b: pair.b ?? null })),
    hands: hands.map(({ now, why, oldPressDoes, ...one }) => ({
      ...one,
      now: now ?? null,
      ...(why === undefined ? {} : { why }),
      ...(oldPressDoes === undefined ? {} : { oldPressDoes }),
    })),
    hotkeys: hotkeys.map((one) => ({ ...one, a: pressJson(one.a), b: pressJson(one.b) })),
    settings: settings.map((one) => ({ ...one, a: valueJson(one.a), b: valueJson(one.b) })),
    cannot,
    lone: lone.map((one) => ({ ...one, says: one.says.map((said) => ({ ...said, value: valueJson(said.value) })) })),
    controls: controls.map((one) => ({
      position: one.position,
      differs: controlDiffers(one),
      a: one.a === undefined ? null : { label: one.a.label ?? null, from: placeJson(one.a.place) },
      b: one.b === undefined ? null : { label: one.b.label ?? null, from: placeJson(one.b.place) },
    })),
    facts: facts.map((one) => ({ fact: one.fact, a: factJson(one.a), b: factJson(one.b) })),
    untold,
  };
}
