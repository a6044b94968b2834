import fc from 'fast-check';
import type { Piece, Plan, PlannedChange, PlannedFile, PlannedKey, Shown } from '../../src/model/plan.ts';
import type { CardRecord, Held } from '../../src/model/record.ts';
import { anyHash, anyKeyText, anyName, anyPath, anyRecord, anyTarget, anyText } from './any-record.ts';

const anyNames = fc.array(anyName, { maxLength: 2 });

const anyShown: fc.Arbitrary<Shown> = fc.oneof(
  anyKeyText.map((value): Shown => ({ kind: 'text', value })),
  fc.constant<Shown>({ kind: 'absent' }),
  anyNames.map((names): Shown => ({ kind: 'secret', names })),
);

const anyOrigin = fc.record({ file: anyText, line: fc.nat(), layer: anyText });

const anyKey: fc.Arbitrary<PlannedKey> = fc
  .record({
    of: fc.record({
      class: fc.constantFrom('same', 'first-time', 'reset', 'changed-by-hand', 'let-alone', 'moved', 'volatile'),
      act: fc.constantFrom('write', 'keep', 'none'),
      instance: anyName,
      file: anyName,
      key: anyText,
      setting: anyName,
      scope: fc.record({ core: anyName, system: anyName, game: anyText }, { requiredKeys: [] }),
      from: anyShown,
      to: anyShown,
      why: anyText,
    }),
    record: fc.option(anyTarget),
    item: fc.option(anyText),
    origin: fc.option(anyOrigin),
    cardLine: fc.option(fc.nat()),
  })
  .map(({ of, record, item, origin, cardLine }) => ({
    ...of,
    ...(record === null ? {} : { record }),
    ...(item === null ? {} : { item }),
    ...(origin === null ? {} : { origin }),
    ...(cardLine === null ? {} : { cardLine }),
  }));

const anyChange: fc.Arbitrary<PlannedChange> = fc.oneof(
  fc.record({ op: fc.constant('set' as const), key: anyText, value: anyKeyText, secrets: anyNames }),
  fc.record({ op: fc.constant('remove' as const), key: anyText }),
  fc.record({
    op: fc.constant('record' as const),
    target: anyTarget,
    value: fc.option(anyKeyText, { nil: undefined }),
    secrets: anyNames,
  }),
);

const anyPiece: fc.Arbitrary<Piece> = fc.oneof(
  fc.record({ kind: fc.constant('text' as const), text: anyText }),
  fc.record({
    kind: fc.constant('secret' as const),
    name: anyName,
    escape: fc.constantFrom('keyfile' as const, 'ini' as const, undefined),
  }),
  fc.record({ kind: fc.constant('psk' as const), name: anyName, network: anyText }),
);

const base = {
  path: anyPath,
  instances: anyNames,
  before: fc.option(fc.record({ keyed: fc.boolean(), hash: anyHash }), { nil: undefined }),
  keys: fc.array(anyKey, { maxLength: 3 }),
};
const written = {
  mode: fc.option(fc.constant(0o600), { nil: undefined }),
  owner: fc.option(anyName, { nil: undefined }),
  bytes: fc.record({ before: fc.nat(), after: fc.nat() }),
};

const anyFile: fc.Arbitrary<PlannedFile> = fc.oneof(
  fc.record({ ...base, act: fc.constantFrom('nothing' as const, 'remove' as const) }),
  fc.record({
    ...base,
    act: fc.constant('restore' as const),
    backup: fc.record({ keyed: fc.boolean(), hash: anyHash }),
  }),
  fc.record({ ...base, ...written, act: fc.constant('whole' as const), pieces: fc.array(anyPiece, { maxLength: 3 }) }),
  fc.record({
    ...base,
    ...written,
    act: fc.constant('change' as const),
    syntax: fc.constantFrom('pairs' as const, 'json' as const),
    style: fc.option(fc.record({ separator: anyText, 'fold-case': fc.boolean() }, { requiredKeys: [] }), {
      nil: undefined,
    }),
    changes: fc.array(anyChange, { maxLength: 3 }),
  }),
);

/** A record with values that are hashed only when the plan is applied. */
const anyPlannedRecord: fc.Arbitrary<CardRecord> = fc
  .tuple(anyRecord, anyKeyText, anyNames)
  .map(([record, value, secrets]): CardRecord => ({
    ...record,
    files: record.files.map((file) => ({
      ...file,
      keys: file.keys.map((key): typeof key => {
        const toHash: Held = { kind: 'to-hash', value, secrets };
        return key.written.kind === 'hashed' ? { ...key, written: toHash } : key;
      }),
    })),
  }));

/** Any plan, of the right shape. */
export const anyPlan: fc.Arbitrary<Plan> = fc
  .record({
    device: anyName,
    card: anyText,
    parts: fc.array(fc.record({ name: anyName, mark: fc.boolean() }), { maxLength: 2 }),
    files: fc.array(anyFile, { maxLength: 3 }),
    risk: fc.option(
      fc.record({
        of: fc.record({ setting: anyName, instance: anyName, what: anyText }),
        origin: fc.option(anyOrigin),
      }),
    ),
    record: anyPlannedRecord,
  })
  .map(({ risk, ...plan }) => ({
    ...plan,
    saveRisks: risk === null ? [] : [{ ...risk.of, ...(risk.origin === null ? {} : { origin: risk.origin }) }],
  }));
