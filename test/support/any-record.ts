import fc from 'fast-check';
import type { KeyText, RecordTarget } from '../../src/model/compiled.ts';
import { cardPath } from '../../src/model/paths.ts';
import type { CardPath } from '../../src/model/paths.ts';
import type { CardRecord, Held, RecordedFile, RecordedKey } from '../../src/model/record.ts';
import { placeIn } from '../../src/4-plan/subject.ts';

/** Any text, with what YAML, JSON and editors stumble over: lone surrogates (bytes that are no UTF-8), controls, words. */
export const anyText: fc.Arbitrary<string> = fc.oneof(
  fc.string(),
  fc.string({ unit: 'binary' }),
  fc
    .array(fc.integer({ min: 0xdc80, max: 0xdcff }).map((unit) => String.fromCharCode(unit)))
    .map((units) => units.join('')),
  fc.constantFrom(
    '',
    'true',
    'null',
    '~',
    '12',
    '-',
    '---',
    '<<<<<<<',
    '# no comment',
    'a: b',
    '"',
    '\\',
    '\u2028',
    '\ufeff',
    '<secret:x>',
    'é\u0301',
    "it's",
    '{{x}}',
    ' blank ',
    '\r\n',
    '&a',
    '*a',
    '!t',
    '| x',
  ),
);

export const anyName = fc.stringMatching(/^[a-z][a-z0-9-]{0,8}$/);

const withFlag = fc
  .record({ text: anyText, literal: fc.boolean() })
  .map(({ text, literal }): { readonly text: string; readonly literal?: boolean } =>
    literal ? { text, literal } : { text },
  );

export const anyKeyText: fc.Arbitrary<KeyText> = fc.oneof(
  withFlag.map((value): KeyText => ({ kind: 'scalar', ...value })),
  fc.array(withFlag, { maxLength: 3 }).map((items): KeyText => ({ kind: 'list', items })),
);

const anyHeld: fc.Arbitrary<Held> = fc.oneof(
  anyKeyText.map((value): Held => ({ kind: 'text', value })),
  fc.constant<Held>({ kind: 'absent' }),
  fc.stringMatching(/^[0-9a-f]{64}$/).map((hash): Held => ({ kind: 'hashed', hash })),
);

const anyFields = fc.array(fc.tuple(anyText, anyKeyText), { maxLength: 2 }).map((entries) => new Map(entries));

export const anyTarget: fc.Arbitrary<RecordTarget> = fc
  .record({
    at: anyText,
    by: anyText,
    is: anyText,
    field: anyText,
    identity: anyFields,
    fresh: fc.option(anyFields),
    whole: fc.option(fc.boolean()),
  })
  .map(({ fresh, whole, ...target }) => ({
    ...target,
    ...(fresh === null ? {} : { fresh }),
    ...(whole === null ? {} : { whole }),
  }));

const anyKey: fc.Arbitrary<RecordedKey> = fc
  .record({
    subject: fc.record({ instance: anyName, file: anyName, key: anyText, setting: anyName }),
    record: fc.option(anyTarget),
    item: fc.option(anyText),
    scope: fc.record({ core: anyName, system: anyName, game: anyText }, { requiredKeys: [] }),
    before: anyHeld,
    written: anyHeld,
    kept: fc.option(anyHeld),
    answer: fc.option(
      fc.oneof(
        fc.constant({ kind: 'let-alone' } as const),
        fc.record({ kind: fc.constant('keep-card' as const), card: anyHeld, profile: anyHeld }),
      ),
    ),
  })
  .map(({ subject, record, item, kept, answer, ...rest }) => ({
    ...subject,
    ...rest,
    ...(record === null ? {} : { record }),
    ...(item === null ? {} : { item }),
    ...(kept === null ? {} : { kept }),
    ...(answer === null ? {} : { answer }),
  }));

export const anyPath: fc.Arbitrary<CardPath> = fc
  .tuple(anyName, fc.array(fc.stringMatching(/^[A-Za-z0-9 éß'"#-]{1,9}$/), { minLength: 1, maxLength: 3 }))
  .map(([part, members]) => cardPath(`${part}:${members.join('/')}`))
  .filter((path) => path !== undefined);

export const anyHash = fc.stringMatching(/^[0-9a-f]{64}$/);

const byPlace = (a: RecordedKey, b: RecordedKey): number =>
  placeIn(a) < placeIn(b) ? -1 : placeIn(a) > placeIn(b) ? 1 : 0;

const anyFile: fc.Arbitrary<RecordedFile> = fc
  .record({
    made: fc.boolean(),
    path: anyPath,
    syntax: fc.constantFrom('pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines', 'template'),
    style: fc.option(
      fc.record(
        {
          separator: anyText,
          comment: fc.oneof(anyText, fc.array(anyText)),
          'fold-case': fc.boolean(),
          duplicates: fc.constantFrom('first', 'last'),
        },
        { requiredKeys: [] },
      ),
      { nil: undefined },
    ),
    stock: fc.option(anyHash, { nil: undefined }),
    keys: fc.uniqueArray(anyKey, { selector: placeIn, maxLength: 4 }).map((keys) => keys.sort(byPlace)),
    whole: fc.option(
      fc.record({
        instance: anyName,
        file: anyName,
        setting: anyName,
        before: fc.option(fc.record({ keyed: fc.boolean(), hash: anyHash }), { nil: undefined }),
        written: fc.record({ keyed: fc.boolean(), hash: anyHash }),
      }),
      { nil: undefined },
    ),
  })
  .map(({ made, ...file }): RecordedFile => (made ? { ...file, made } : file));

/** Any record of a card, settled, with files and keys sorted. */
export const anyRecord: fc.Arbitrary<CardRecord> = fc.record({
  card: anyText,
  device: anyName,
  state: fc.constantFrom('written', 'pending'),
  instances: fc
    .uniqueArray(
      fc.tuple(
        anyName,
        fc
          .record({
            dialect: anyName,
            dialectVersion: anyText,
            version: fc.option(anyText, { nil: undefined }),
            lists: fc.option(fc.array(anyText, { minLength: 1, maxLength: 3 })),
          })
          .map(({ lists, ...rest }) => (lists === null ? rest : { ...rest, emptyLists: lists })),
      ),
      {
        selector: ([instance]) => instance,
        maxLength: 3,
      },
    )
    .map((entries) => new Map(entries.sort(([a], [b]) => (a < b ? -1 : 1)))),
  files: fc
    .uniqueArray(anyFile, { selector: ({ path }) => path, maxLength: 3 })
    .map((files) => files.sort((a, b) => (a.path < b.path ? -1 : 1))),
});
