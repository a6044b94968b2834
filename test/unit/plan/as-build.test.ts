import { describe, expect, it } from 'vitest';
import { planFiles } from '../../../src/4-plan/merge-keys.ts';
import { writtenText } from '../../../src/4-plan/written-text.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { demoFiles, runDemo } from '../../support/demo.ts';
import { mergeInput, prepareAll } from '../../support/merge.ts';
import type { Card } from '../../support/merge.ts';

const placeholder = (name: string): string => `<secret:${name}>`;

describe('a plan against the stock files of a card that was never written', () => {
  const built = new Map(runDemo().map((run) => [run.name, run.built]));
  for (const prepared of prepareAll(demoFiles())) {
    it(`writes ${prepared.name} as build does, byte for byte`, () => {
      const files = built.get(prepared.name)?.files ?? [];
      const card: Card = new Map();
      for (const { path } of files) {
        const stock = prepared.stock(path);
        if (stock !== undefined) card.set(path, stock.text);
      }
      const input = mergeInput(prepared, card, undefined, {
        // As in `out/`, where a secret stands as its name.
        secrets: { namesIn: () => [], namesInFile: () => [], find: placeholder },
      });
      const planned = planFiles(input);
      expect(planned.findings.filter(({ grade }) => grade === 'error')).toEqual([]);
      const texts = planned.value.files.map((file) => [
        file.path,
        writtenText(
          file,
          input.card(file.path).kind === 'text' ? { name: file.path, text: card.get(file.path) ?? '' } : undefined,
          placeholder,
          syntaxes,
        ).value ?? card.get(file.path),
      ]);
      expect(texts).toEqual(files.map(({ path, text }) => [path, text]));
      expect(texts.length).toBeGreaterThan(5);
    });
  }
});
