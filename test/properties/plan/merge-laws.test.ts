import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planFiles } from '../../../src/4-plan/merge-keys.ts';
import type { MergedFiles, MergeInput } from '../../../src/4-plan/merge-keys.ts';
import { styleOf } from '../../../src/dialect/style-of.ts';
import { sameText } from '../../../src/model/same-text.ts';
import { settleRecord } from '../../../src/4-plan/settle-record.ts';
import type { Compiled, Edit, KeyText } from '../../../src/model/compiled.ts';
import type { CardPath } from '../../../src/model/paths.ts';
import type { CardRecord } from '../../../src/model/record.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';
import { demoFiles } from '../../support/demo.ts';
import { carryOut, hash, mergeInput, prepareAll } from '../../support/merge.ts';
import type { Card, Prepared } from '../../support/merge.ts';

const numRuns = Math.ceil(Number(process.env['THUMBWRIGHT_RUNS'] ?? 300) / 3);

const profiles = prepareAll(demoFiles());

/** The profile with only some of its edits, some of them with another value: profiles change. */
function variant({ compiled }: Prepared['parts'], picks: readonly number[]): Compiled {
  const kept = compiled.edits.flatMap((edit, at): readonly Edit[] => {
    const pick = picks[at % picks.length] ?? 0;
    if (pick === 0) return [];
    if (
      pick !== 1 ||
      edit.record !== undefined ||
      edit.value?.kind !== 'scalar' ||
      edit.value.literal === true ||
      edit.decision?.value.kind === 'secret'
    )
      return [edit];
    return [{ ...edit, value: { ...edit.value, text: `${edit.value.text}1` } }];
  });
  return { ...compiled, edits: kept, wholeFiles: (picks[0] ?? 0) === 0 ? [] : compiled.wholeFiles };
}

interface Run {
  readonly input: MergeInput;
  readonly merged: MergedFiles;
  readonly card: Card;
  readonly record: CardRecord;
}

function write(
  prepared: Prepared,
  compiled: Compiled,
  card: Card,
  last: Run | undefined,
  kept: Map<string, string>,
): Run {
  const input = mergeInput(prepared, card, last?.record, {
    compiled,
    // Variants are of no lens: the edits are compared by their text.
    same: (_, __, a, b) => a !== undefined && b !== undefined && sameText(a, b),
  });
  const { value: merged, findings } = planFiles(input);
  expect(findings.filter(({ grade }) => grade === 'error').map(({ detail }) => detail)).toEqual([]);
  for (const text of card.values()) kept.set(hash.plain(text), text);
  const after = carryOut(input, merged, card, kept);
  const { resolved } = compiled;
  const record: CardRecord = {
    card: 'a card',
    device: resolved.device.id,
    state: 'written',
    instances: new Map(
      resolved.instances.map(({ name, dialect, version }) => [
        name,
        { dialect: dialect.data.dialect, dialectVersion: dialect.data.version, version },
      ]),
    ),
    files: settleRecord(merged.record, {
      find: input.secrets.find,
      keyed: hash.keyed,
      writtenTo: (path) => after.get(path),
      keptText: (plain) => kept.get(plain),
    }),
  };
  return { input, merged, card: after, record };
}

function stockCard({ parts, stock }: Prepared): Card {
  const card: Card = new Map();
  for (const { path } of parts.compiled.edits) {
    const source = stock(path);
    if (source !== undefined) card.set(path, source.text);
  }
  return card;
}

/** The values of the keys of a file that are not ours, by key. */
function unowned(
  input: MergeInput,
  path: CardPath,
  card: Card,
  owned: ReadonlySet<string>,
): Readonly<Record<string, KeyText | undefined>> {
  const edit = input.compiled.edits.find((one) => one.path === path);
  const spec = input.compiled.resolved.instances.find(({ name }) => name === edit?.instance)?.dialect.data.files[
    edit?.file ?? ''
  ];
  const text = card.get(path);
  if (spec === undefined || text === undefined) return {};
  const tree = syntaxes[spec.syntax].parse({ name: path, text }, styleOf(spec.style)).tree;
  return Object.fromEntries(
    (tree?.keys() ?? []).flatMap(({ path: key }) =>
      [...owned].some((own) => key === own || key.startsWith(`${own}/`)) ? [] : [[key, tree?.get(key)] as const],
    ),
  );
}

const anyProfile = fc.nat({ max: profiles.length - 1 });

function profile(at: number): Prepared {
  const found = profiles[at];
  if (found === undefined) throw new Error('The demo has no such profile.');
  return found;
}

const anyPicks = fc.array(fc.nat({ max: 3 }), { minLength: 3, maxLength: 17 });

describe('the merge', () => {
  it('does nothing the second time, times and record included', () => {
    fc.assert(
      fc.property(anyProfile, anyPicks, anyPicks, fc.boolean(), (at, first, second, stock) => {
        const prepared = profile(at);
        const kept = new Map<string, string>();
        let run: Run | undefined;
        for (const picks of [first, second]) {
          const compiled = variant(prepared.parts, picks);
          run = write(
            prepared,
            compiled,
            run?.card ?? (stock ? stockCard(prepared) : new Map<CardPath, string>()),
            run,
            kept,
          );
          const again = write(prepared, compiled, run.card, run, kept);
          expect(again.merged.files.filter(({ act }) => act !== 'nothing').map(({ path }) => path)).toEqual([]);
          expect(again.record).toEqual(run.record);
        }
      }),
      { numRuns },
    );
  });

  it('gives back what stood there before, byte for byte, where all keys are let go', () => {
    fc.assert(
      fc.property(anyProfile, anyPicks, anyPicks, (at, first, second) => {
        const prepared = profile(at);
        const kept = new Map<string, string>();
        const before = stockCard(prepared);
        // An element that we added keeps the fields that tell it from others: records are left out here.
        const { compiled } = prepared.parts;
        const parts = {
          ...prepared.parts,
          compiled: { ...compiled, edits: compiled.edits.filter(({ record }) => record === undefined) },
        };
        let run = write(prepared, variant(parts, first), before, undefined, kept);
        run = write(prepared, variant(parts, second), run.card, run, kept);
        run = write(prepared, { ...prepared.parts.compiled, edits: [], wholeFiles: [] }, run.card, run, kept);
        expect(run.record.files).toEqual([]);
        const shared = [...before.keys()];
        expect(shared.map((path) => run.card.get(path))).toEqual(shared.map((path) => before.get(path)));
        expect([...run.card.keys()].filter((path) => !before.has(path))).toEqual([]);
      }),
      { numRuns },
    );
  });

  it('keeps every hand change and every key that is not ours', () => {
    fc.assert(
      fc.property(anyProfile, anyPicks, anyPicks, anyPicks, (which, first, second, hand) => {
        const prepared = profile(which);
        const kept = new Map<string, string>();
        const run = write(prepared, variant(prepared.parts, first), stockCard(prepared), undefined, kept);
        // By hand: some of our keys, each to a text that nothing else writes.
        const card: Card = new Map(run.card);
        const touched: { readonly path: CardPath; readonly key: string; readonly text: string }[] = [];
        let at = 0;
        for (const file of run.record.files) {
          const text = card.get(file.path);
          if (text === undefined || file.whole !== undefined) continue;
          const syntax = syntaxes[file.syntax];
          const { tree } = syntax.parse({ name: file.path, text }, styleOf(file.style));
          if (tree === undefined) continue;
          const changes = file.keys.flatMap((key) => {
            const volatile = key.setting.startsWith('sound.') || key.setting.startsWith('display.');
            if (key.record !== undefined || key.written.kind !== 'text' || volatile || hand[at++ % hand.length] !== 0)
              return [];
            return [{ op: 'set' as const, path: key.key, value: { kind: 'scalar' as const, text: `hand${at}` } }];
          });
          const changed = syntax.change(tree, changes);
          changes.forEach((change, index) => {
            if (changed.results[index]?.kind === 'changed')
              touched.push({ path: file.path, key: change.path, text: change.value.text });
          });
          card.set(file.path, applyEdits(text, changed.edits));
        }
        const next = write(prepared, variant(prepared.parts, second), card, run, kept);
        const told = next.merged.files.flatMap((file) => file.keys.map((key) => ({ ...key, path: file.path })));
        for (const { path, key, text } of touched) {
          const spec = run.record.files.find((file) => file.path === path);
          const now = next.card.get(path);
          const tree =
            spec === undefined || now === undefined
              ? undefined
              : syntaxes[spec.syntax].parse({ name: path, text: now }, styleOf(spec.style)).tree;
          const value = tree?.get(key);
          expect(value?.kind === 'scalar' ? value.text : value, `${path} ${key}`).toBe(text);
          expect(told.find((one) => one.path === path && one.key === key)?.act).toBe('keep');
        }
        for (const [path] of card) {
          const owned = new Set(
            [
              ...(run.record.files.find((file) => file.path === path)?.keys ?? []),
              ...(next.record.files.find((file) => file.path === path)?.keys ?? []),
            ].map(({ key }) => key),
          );
          // Records are told by their fields, whose keys are other than what shows them.
          if (prepared.parts.compiled.edits.some((edit) => edit.path === path && edit.record !== undefined)) continue;
          expect(unowned(next.input, path, next.card, owned)).toEqual(unowned(next.input, path, card, owned));
        }
      }),
      { numRuns },
    );
  });
});
