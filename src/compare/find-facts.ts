import type { FactDifference, FactSide, Which } from '../model/comparison.ts';
import type { Part } from '../model/device.ts';
import type { Path } from '../model/document.ts';
import type { Instance } from '../model/resolved.ts';
import { printQuantity } from '../vocabulary/units.ts';
import { whiches } from './side.ts';
import { valueAt } from '../model/value-at.ts';
import type { Paired, Side, Sides } from './side.ts';

type Both = { readonly a: FactSide | undefined; readonly b: FactSide | undefined };

/** Where the layers say a fact: the uppermost that has it. */
function placeOf({ resolved }: Side, path: Path): FactSide['place'] {
  const layer = resolved.layers.findLast(({ data }) => valueAt(data, path) !== undefined);
  return layer?.place(path);
}

function factOf(side: Side, text: string | undefined, path: Path): FactSide | undefined {
  return text === undefined ? undefined : { text, place: placeOf(side, path) };
}

function partFacts(part: Part | undefined): readonly (readonly [string, string | undefined])[] {
  const bytes = (amount: number | undefined): string | undefined =>
    amount === undefined ? undefined : printQuantity(amount, 'size');
  return [
    ['filesystem', part?.filesystem],
    ['capacity', bytes(part?.capacity)],
    ['allocation-unit', bytes(part?.allocationUnit)],
    ['mounted-at', part?.mountedAt],
    ['games-root', part?.gamesRoot],
    ['firmware-root', part?.firmwareRoot],
    ['survives-reimage', part?.survivesReimage?.toString()],
  ];
}

/** Facts of the devices, and of the frontends held against each other, that differ. What follows from another dialect is not among them. */
export function findFacts(sides: Sides, pairs: readonly Paired[]): readonly FactDifference[] {
  const found: FactDifference[] = [];
  const add = (fact: string, { a, b }: Both): void => {
    if (a?.text !== b?.text) found.push({ fact, a, b });
  };
  const both = (make: (side: Side) => FactSide | undefined): Both => ({ a: make(sides.a), b: make(sides.b) });

  for (const name of ['body', 'performance', 'wifi'] as const)
    add(
      name,
      both((side) => factOf(side, side.resolved.device[name]?.toString(), ['device', name])),
    );
  const hands = new Set(whiches.flatMap((which) => Object.keys(sides[which].resolved.device.hands)));
  for (const hand of hands)
    add(
      `hands ${hand}`,
      both((side) => factOf(side, side.resolved.device.hands[hand], ['device', 'hands', hand])),
    );
  const parts = new Set(whiches.flatMap((which) => [...sides[which].resolved.device.parts.keys()]));
  for (const part of parts) {
    for (const [name] of partFacts(undefined))
      add(
        `part ${part}, ${name}`,
        both((side) => {
          const value = partFacts(side.resolved.device.parts.get(part)).find(([known]) => known === name)?.[1];
          return factOf(side, value, ['device', 'parts', part, name]);
        }),
      );
  }
  const chords = (side: Side): ReadonlyMap<string, FactSide> =>
    new Map(
      side.resolved.device.reserved.map(({ positions, does, loses, place }) => [
        [...positions].sort().join(' with '),
        { text: [does, ...[...loses].sort().map((what) => `loses ${what}`)].join(', '), place },
      ]),
    );
  const reserved = { a: chords(sides.a), b: chords(sides.b) };
  for (const chord of new Set([...reserved.a.keys(), ...reserved.b.keys()]))
    add(`reserved ${chord}`, { a: reserved.a.get(chord), b: reserved.b.get(chord) });
  for (const { a, b } of pairs) if (a !== undefined && b !== undefined) addFrontend(sides, a, b, add);
  return found;
}

/** Facts of two instances held against each other. */
function addFrontend(sides: Sides, a: Instance, b: Instance, add: (fact: string, both: Both) => void): void {
  const name = a.name === b.name ? a.name : `${a.name} / ${b.name}`;
  const fact = (which: Which, text: string | undefined): FactSide | undefined =>
    text === undefined ? undefined : { text, place: (which === 'a' ? a : b).place };
  // Another program has another version, another place and perhaps another word size by nature.
  if (a.dialect.data.dialect === b.dialect.data.dialect) {
    add(`${name}, version`, { a: fact('a', a.version), b: fact('b', b.version) });
    add(`${name}, bits`, { a: fact('a', a.bits?.toString()), b: fact('b', b.bits?.toString()) });
    if (a.name === b.name) add(`${name}, root`, { a: fact('a', a.root), b: fact('b', b.root) });
  }
  const cores = new Set([...(a.cores?.keys() ?? []), ...(b.cores?.keys() ?? [])]);
  // A profile that lists no cores does not say that there are none.
  if (a.cores !== undefined && b.cores !== undefined)
    for (const core of [...cores].sort())
      add(`${name}, core ${core}`, { a: fact('a', a.cores.get(core)), b: fact('b', b.cores.get(core)) });
  const raw = (which: Which, instance: Instance): ReadonlyMap<string, FactSide> =>
    new Map(
      sides[which].resolved.extra
        .filter((extra) => extra.instance === instance.name)
        .map(({ file, key, text, origin }) => [`${file}: ${key}`, { text, place: origin.place }]),
    );
  const [ofA, ofB] = [raw('a', a), raw('b', b)];
  for (const key of new Set([...ofA.keys(), ...ofB.keys()]))
    add(`extra ${name}, ${key}`, { a: ofA.get(key), b: ofB.get(key) });
}
