import { describe, expect, it } from 'vitest';
import { planFiles } from '../../../src/4-plan/merge-keys.ts';
import type { CardPath } from '../../../src/model/paths.ts';
import type { CardRecord } from '../../../src/model/record.ts';
import { demoFiles } from '../../support/demo.ts';
import { carryOut, mergeInput, prepareAll } from '../../support/merge.ts';
import type { Card } from '../../support/merge.ts';

/** Tarn's card as its stock files have it, written once. */
function written() {
  const prepared = prepareAll(demoFiles()).find(({ name }) => name === 'tarn');
  if (prepared === undefined) throw new Error('The demo has no Tarn.');
  const card: Card = new Map();
  for (const { path } of prepared.parts.compiled.edits) {
    const stock = prepared.stock(path);
    if (stock !== undefined) card.set(path, stock.text);
  }
  const input = mergeInput(prepared, card, undefined);
  const planned = planFiles(input).value;
  const record: CardRecord = {
    card: 'tarn-1',
    device: 'tarn',
    state: 'written',
    instances: new Map(),
    files: planned.record,
  };
  return { prepared, record, card: carryOut(input, planned, card) };
}

function pathOf(card: Card, end: string): CardPath {
  const path = [...card.keys()].find((one) => one.endsWith(end));
  if (path === undefined) throw new Error(`The card has no ${end}.`);
  return path;
}

describe('what a list does not name, on a card that was written', () => {
  const { prepared, record, card } = written();
  const sill = pathOf(card, 'sill/shelf.json');
  const quay = pathOf(card, 'coble/quay.xml');

  it('is off after the first write, and the second changes nothing', () => {
    expect(card.get(sill)).toContain('"The Tin Comet", "loved": false');
    const again = planFiles(mergeInput(prepared, card, record)).value;
    expect(again.files.filter(({ act }) => act !== 'nothing').map(({ path, keys }) => [path, keys])).toEqual([]);
    expect(again.record).toEqual(record.files);
  });

  it('stays on where it was marked since, by hand or in play', () => {
    const marked: Card = new Map(card)
      .set(sill, (card.get(sill) ?? '').replace('"Test Disc", "loved": false', '"Test Disc", "loved": true'))
      .set(
        quay,
        (card.get(quay) ?? '').replace(
          '<load>boats/fulmar.run</load>',
          '<load>boats/fulmar.run</load><loved>aye</loved>',
        ),
      );
    expect(marked).not.toEqual(card);
    const input = mergeInput(prepared, marked, record);
    expect(carryOut(input, planFiles(input).value, marked)).toEqual(marked);
  });
});
