// Lens laws of every syntax: GetPut, PutGet and PutPut (Foster et al., "Combinators for Bidirectional Tree Transformations",
// 2007; from memory), insert then remove, and that no byte moves that nobody named.
// The large run: npm run laws
import { describe, expect, it } from 'vitest';
import fc from 'fast-check';
import type { Change, SyntaxValue, Tree } from '../../src/syntax/contract.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import { template } from '../../src/syntax/template/template.ts';
import { decodeBytes, encodeText } from '../../src/text/encoding.ts';
import { applyEdits } from '../../src/text/text-edit.ts';
import type { SyntaxGenerator, SyntaxText } from '../support/syntax/contract.ts';
import { generators } from '../support/syntax/generators.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

/** Undefined for a text that the syntax refuses: it must then say why and where. */
function parsed({ syntax }: SyntaxGenerator, { text, style }: SyntaxText): Tree | undefined {
  const { tree, findings } = syntax.parse({ name: 'text', text }, style);
  if (tree === undefined) expect(findings[0]?.place).toBeDefined();
  else expect(tree.source.text).toBe(text);
  return tree;
}

/** Where a style joins lists, a text that holds the mark reads as a list: both are taken for the same. */
function joined(value: SyntaxValue | undefined, { list }: SyntaxText['style']): unknown {
  if (value === undefined || list === undefined) return value;
  const items = value.kind === 'list' ? value.items.map((item) => item.text) : value.text.split(list.trim());
  return items.length === 1 ? items[0] : items.map((item) => item.trim());
}

function same(of: SyntaxGenerator, style: SyntaxText['style'], a: SyntaxValue | undefined, b: SyntaxValue): boolean {
  if (a === undefined) return false;
  return of.same?.(a, b) === true || JSON.stringify(joined(a, style)) === JSON.stringify(joined(b, style));
}

function values(tree: Tree): Map<string, SyntaxValue | undefined> {
  return new Map(tree.keys().map(({ path }) => [path, tree.get(path)]));
}

function apply(
  of: SyntaxGenerator,
  text: SyntaxText,
  tree: Tree,
  changes: readonly Change[],
): { text: SyntaxText; kinds: readonly string[]; edits: number } {
  const { edits, results } = of.syntax.change(tree, changes);
  expect(results).toHaveLength(changes.length);
  for (const result of results) if (result.kind === 'refused') expect(result.finding.place).toBeDefined();
  return {
    text: { ...text, text: applyEdits(text.text, edits) },
    kinds: results.map(({ kind }) => kind),
    edits: edits.length,
  };
}

function picked(tree: Tree, pick: number): string | undefined {
  const keys = tree.keys();
  return keys.length === 0 ? undefined : keys[pick % keys.length]?.path;
}

const spelled = (path: string, value: SyntaxValue): Change => ({ op: 'set', path, value });

/** Every key but one holds what it held. */
function othersHold(of: SyntaxGenerator, before: Tree, after: Tree, path: string): void {
  for (const [other, value] of values(before)) {
    if (other !== path && of.related?.(other, path) !== true) expect([other, after.get(other)]).toEqual([other, value]);
  }
}

/** No key comes or goes but the one and those that hang on it: the items of a list, what a test of the path names. */
function onlyRelatedCame(of: SyntaxGenerator, before: Tree, after: Tree, path: string): void {
  // By its place, since a path may be spelled in several ways.
  const own = after.find(path)?.span;
  const strangers = (tree: Tree): readonly string[] =>
    tree
      .keys()
      .filter((key) => tree !== after || key.span.start !== own?.start || key.span.end !== own.end)
      .map((key) => key.path)
      .filter((other) => of.related?.(other, path) !== true);
  expect(strangers(after)).toEqual(strangers(before));
}

const pick = fc.nat(1000);

describe.each(generators.map((of) => [of.syntax.name, of] as const))('lens laws of %s', (_name, of) => {
  const law = (what: string, prepare: () => void): void => it(what, prepare);

  law('every key has a place and one path', () => {
    fc.assert(
      fc.property(of.texts, (text) => {
        const tree = parsed(of, text);
        for (const key of tree?.keys() ?? []) {
          expect(of.syntax.badPath(key.path)).toBeUndefined();
          expect(tree?.find(key.path)).toEqual(key);
          expect(tree?.get(key.path)).toBeDefined();
          expect(key.span.start <= key.valueSpan.start && key.valueSpan.end <= key.span.end).toBe(true);
        }
        expect(decodeBytes(encodeText(text.text))).toBe(text.text);
      }),
      { numRuns },
    );
  });

  law('GetPut: setting every key to what it holds changes no byte', () => {
    fc.assert(
      fc.property(of.texts, (text) => {
        const tree = parsed(of, text);
        if (tree === undefined) return;
        const changes = [...values(tree)].flatMap(([path, value]) =>
          value === undefined ? [] : [spelled(path, value)],
        );
        const { edits, kinds } = apply(of, text, tree, changes);
        expect([edits, kinds.filter((kind) => kind !== 'unchanged')]).toEqual([0, []]);
      }),
      { numRuns },
    );
  });

  law('PutGet: a set key holds what was set, and nothing else moves', () => {
    fc.assert(
      fc.property(of.texts, pick, of.values, (text, which, value) => {
        const tree = parsed(of, text);
        const path = tree === undefined ? undefined : picked(tree, which);
        if (tree === undefined || path === undefined) return;
        const key = tree.find(path);
        const changed = of.syntax.change(tree, [spelled(path, value)]);
        if (changed.results[0]?.kind === 'refused') {
          expect(changed.edits).toEqual([]);
          return;
        }
        for (const { span } of changed.edits) {
          expect(key !== undefined && key.span.start <= span.start && span.end <= key.span.end).toBe(true);
        }
        const after = parsed(of, apply(of, text, tree, [spelled(path, value)]).text);
        if (after === undefined) throw new Error('The text cannot be read any more.');
        expect([same(of, text.style, after.get(path), value), after.get(path), value]).toEqual([
          true,
          after.get(path),
          value,
        ]);
        othersHold(of, tree, after, path);
        expect(of.comments(after.source.text)).toEqual(of.comments(text.text));
      }),
      { numRuns },
    );
  });

  law('PutPut: the last of two sets wins, at once and one after the other', () => {
    fc.assert(
      fc.property(of.texts, pick, of.values, of.values, (text, which, first, second) => {
        const tree = parsed(of, text);
        const path = tree === undefined ? undefined : picked(tree, which);
        if (tree === undefined || path === undefined) return;
        const direct = apply(of, text, tree, [spelled(path, second)]);
        expect(apply(of, text, tree, [spelled(path, first), spelled(path, second)]).text).toEqual(direct.text);
        const one = apply(of, text, tree, [spelled(path, first)]);
        const between = parsed(of, one.text);
        if (between === undefined) throw new Error('The text cannot be read any more.');
        const two = apply(of, one.text, between, [spelled(path, second)]);
        if (direct.kinds[0] === 'refused' || two.kinds[0] === 'refused' || one.kinds[0] === 'refused') return;
        const [a, b] = [parsed(of, direct.text), parsed(of, two.text)];
        const held = (tree: Tree | undefined): unknown =>
          tree?.keys().map((key) => [key.path, joined(tree.get(key.path), text.style)]);
        expect(held(b)).toEqual(held(a));
      }),
      { numRuns },
    );
  });

  law('insert then remove gives the first bytes', () => {
    fc.assert(
      fc.property(of.texts, of.newPaths, of.values, (text, path, value) => {
        const tree = parsed(of, text);
        if (tree === undefined || tree.get(path) !== undefined) return;
        const inserted = apply(of, text, tree, [spelled(path, value)]);
        if (inserted.kinds[0] === 'refused') {
          expect(inserted.text).toEqual(text);
          return;
        }
        const after = parsed(of, inserted.text);
        if (after === undefined) throw new Error('The text cannot be read any more.');
        expect([same(of, text.style, after.get(path), value), after.get(path), value]).toEqual([
          true,
          after.get(path),
          value,
        ]);
        othersHold(of, tree, after, path);
        onlyRelatedCame(of, tree, after, path);
        const brought = of.brings === undefined ? 1 : of.brings(text, path, value);
        expect(after.keys()).toHaveLength(tree.keys().length + brought);
        expect(of.comments(after.source.text)).toEqual(of.comments(text.text));
        const back = apply(of, inserted.text, after, [{ op: 'remove', path }]);
        if (of.notRestored?.(text, path) !== true) expect(back.text.text).toBe(text.text);
      }),
      { numRuns },
    );
  });

  law('several keys put in at once and taken out at once give the first bytes', () => {
    fc.assert(
      fc.property(
        of.texts,
        fc.uniqueArray(of.newPaths, { minLength: 2, maxLength: 4 }),
        of.values,
        (text, paths, value) => {
          const tree = parsed(of, text);
          if (tree === undefined || paths.some((path) => tree.get(path) !== undefined)) return;
          const inserted = apply(
            of,
            text,
            tree,
            paths.map((path) => spelled(path, value)),
          );
          const after = parsed(of, inserted.text);
          if (after === undefined) throw new Error('The text cannot be read any more.');
          const made = paths.filter((_, k) => inserted.kinds[k] === 'changed');
          for (const path of made) expect(same(of, text.style, after.get(path), value)).toBe(true);
          const back = apply(
            of,
            inserted.text,
            after,
            made.map((path) => ({ op: 'remove', path })),
          );
          if (!paths.some((path) => of.notRestored?.(text, path) === true)) expect(back.text.text).toBe(text.text);
        },
      ),
      { numRuns },
    );
  });

  law('a removed key is gone, and nothing else', () => {
    fc.assert(
      fc.property(of.texts, pick, (text, which) => {
        const tree = parsed(of, text);
        const path = tree === undefined ? undefined : picked(tree, which);
        if (tree === undefined || path === undefined) return;
        const removed = apply(of, text, tree, [{ op: 'remove', path }]);
        if (removed.kinds[0] === 'refused') return;
        const after = parsed(of, removed.text);
        if (after === undefined) throw new Error('The text cannot be read any more.');
        if (of.related === undefined) expect(after.get(path)).toBeUndefined();
        othersHold(of, tree, after, path);
      }),
      { numRuns },
    );
  });
});

describe('lens laws of template', () => {
  it('refuses every change and keeps every byte', () => {
    const change = fc.record({ path: fc.string(), value: fc.string() });
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.array(change), (text, wishes) => {
        const { tree, findings } = template.parse({ name: 'text', text }, {});
        if (tree === undefined) throw new Error('A text of a template is refused.');
        expect([findings, tree.source.text, tree.keys()]).toEqual([[], text, []]);
        const changes = wishes.flatMap(({ path, value }): Change[] => [
          { op: 'set', path, value: { kind: 'scalar', text: value } },
          { op: 'remove', path },
        ]);
        const { edits, results } = template.change(tree, changes);
        expect(edits).toEqual([]);
        expect(results.map((result) => result.kind === 'refused' && result.finding.place?.source.text)).toEqual(
          changes.map(() => text),
        );
      }),
      { numRuns },
    );
  });
});

describe('the suite', () => {
  it('holds every registered syntax to the laws', () => {
    const held = generators.map(({ syntax }) => syntax.name);
    const names = Object.values(syntaxes).map(({ name }) => name);
    expect(names.filter((name) => !held.includes(name))).toEqual(['template']);
  });
});
