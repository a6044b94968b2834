import fc from 'fast-check';
import { isMapping } from './documents.ts';

type Path = readonly (string | number)[];

/** Every place in a document, the top's last. */
function places(data: unknown, path: Path = []): Path[] {
  const below = Array.isArray(data)
    ? data.flatMap((item: unknown, index) => places(item, [...path, index]))
    : isMapping(data)
      ? Object.entries(data).flatMap(([name, member]) => places(member, [...path, name]))
      : [];
  return [...below, path];
}

function changed(data: unknown, path: Path, change: (value: unknown) => unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return change(data);
  if (Array.isArray(data))
    return data.map((item: unknown, index) => (index === step ? changed(item, rest, change) : item));
  if (!isMapping(data)) return data;
  return Object.fromEntries(
    Object.entries(data).map(([name, member]) => [name, name === step ? changed(member, rest, change) : member]),
  );
}

const values = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    true,
    0,
    1,
    -1,
    2.5,
    64,
    '',
    'none',
    'south',
    '10 s',
    'secret:x',
    [],
    {},
    [[]],
    [null],
  ),
  fc.constantFrom<unknown>(
    { label: 'A' },
    { control: 'x' },
    ['south', 'south'],
    { for: {} },
    { constructor: 1 },
    { name: 5 },
  ),
);

/** One change somewhere: a value replaced, a member dropped, renamed or added, an item doubled. */
function mutation(document: unknown): fc.Arbitrary<unknown> {
  return fc
    .tuple(
      fc.constantFrom(...places(document)),
      fc.nat({ max: 4 }),
      values,
      fc.string({ minLength: 1, maxLength: 3 }),
      fc.nat(),
    )
    .map(([path, kind, value, letters, pick]) =>
      changed(document, path, (old) => {
        if (Array.isArray(old) && kind > 0) {
          const items: readonly unknown[] = old;
          return kind % 2 === 0 ? [...items, value] : [...items, ...items];
        }
        if (!isMapping(old) || kind === 0) return value;
        const entries = Object.entries(old);
        const at = pick % Math.max(1, entries.length);
        if (kind === 1) return Object.fromEntries(entries.filter((_, index) => index !== at));
        if (kind === 2)
          return Object.fromEntries(
            entries.map(([name, member], index) => [index === at ? name + letters : name, member]),
          );
        return Object.fromEntries([...entries, [kind === 3 ? letters : '__proto__', value]]);
      }),
    );
}

/** Up to three changes, one after the other. */
export function mutations(document: unknown): fc.Arbitrary<unknown> {
  return mutation(document).chain((once) =>
    fc.oneof(
      fc.constant(once),
      mutation(once).chain((twice) => fc.oneof(fc.constant(twice), mutation(twice))),
    ),
  );
}
