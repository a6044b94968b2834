import { describe, expect, it } from 'vitest';
import { planFiles } from '../../../src/4-plan/merge-keys.ts';
import type { MergedFiles } from '../../../src/4-plan/merge-keys.ts';
import { keyId } from '../../../src/4-plan/subject.ts';
import type { CardPath } from '../../../src/model/paths.ts';
import type { CardRecord } from '../../../src/model/record.ts';
import { recordedInstances } from '../../../src/pipeline/recorded-instances.ts';
import { shownText } from '../../../src/report/plan-text.ts';
import { demoFiles } from '../../support/demo.ts';
import { carryOut, mergeInput, prepareAll } from '../../support/merge.ts';
import type { Card, Prepared } from '../../support/merge.ts';

/** Tarn's card as its stock files have it, written once; `change`: another text of the profile. */
function written(change: (text: string) => string = (text) => text) {
  const prepared = prepareAll(demoFiles({ 'profiles/tarn.yaml': change })).find(({ name }) => name === 'tarn');
  if (prepared === undefined) throw new Error('The demo has no Tarn.');
  const card: Card = new Map();
  for (const { path } of prepared.parts.compiled.edits) {
    const stock = prepared.stock(path);
    if (stock !== undefined) card.set(path, stock.text);
  }
  return { prepared, ...write(prepared, card, undefined) };
}

function write(prepared: Prepared, before: Card, last: CardRecord | undefined) {
  const input = mergeInput(prepared, before, last);
  const planned = planFiles(input).value;
  const record: CardRecord = {
    card: 'tarn-1',
    device: 'tarn',
    state: 'written',
    instances: recordedInstances(input.compiled, input.versions, planned.record, last),
    files: planned.record,
  };
  return { record, card: carryOut(input, planned, before) };
}

/** What is told of as a hand change that is kept. */
function kept({ files }: MergedFiles): readonly string[] {
  return files.flatMap(({ keys }) =>
    keys
      .filter(({ act }) => act === 'keep')
      .map((key) => `${key.class} ${key.setting} on ${key.instance}: ${shownText(key.to)} -> ${shownText(key.from)}`),
  );
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
    const planned = planFiles(input).value;
    expect(carryOut(input, planned, marked)).toEqual(marked);
    expect(kept(planned)).toEqual([
      'volatile games.favourites on coble: (not there) -> aye',
      'volatile games.favourites on sill: false -> true',
    ]);
  });

  it('stays on where the list is empty and nothing was marked when it was written', () => {
    const none = (text: string): string => text.replace(/^ {2}favourites: .*$/m, '  favourites: []');
    const first = written(none);
    const unmarked: Card = new Map(first.card);
    // Nothing is owned of the setting: a card on which no game was marked.
    const fresh: Card = new Map(
      [...unmarked].map(([path, text]) => [path, text.replaceAll('"loved": true', '"loved": false')]),
    );
    const second = write(first.prepared, fresh, undefined);
    expect(
      second.record.files
        .flatMap(({ keys }) => keys)
        .some(({ instance, setting }) => instance === 'sill' && setting === 'games.favourites'),
    ).toBe(false);
    const marked: Card = new Map(second.card).set(
      sill,
      (second.card.get(sill) ?? '').replace('"Test Disc", "loved": false', '"Test Disc", "loved": true'),
    );
    expect(marked).not.toEqual(second.card);
    const input = mergeInput(first.prepared, marked, second.record);
    expect(kept(planFiles(input).value)).toEqual(['volatile games.favourites on sill: false -> true']);
    const third = write(first.prepared, marked, second.record);
    expect(third.card).toEqual(marked);
    // And again, as of a card that was never written the list is the whole list.
    expect(write(first.prepared, third.card, third.record).card).toEqual(marked);
    expect(write(first.prepared, marked, undefined).card).not.toEqual(marked);
  });

  it('is told as a hand change where no play makes it, until the person says', () => {
    for (const hidden of ['[]', '[lathe/test-disc.sheet]']) {
      const first = written((text) => text.replace(/^ {2}hidden: .*$/m, `  hidden: ${hidden}`));
      const comet = '"The Tin Comet", "loved": false';
      const marked: Card = new Map(first.card).set(
        sill,
        (first.card.get(sill) ?? '').replace(comet, `${comet}, "put-away": true`),
      );
      expect(marked).not.toEqual(first.card);
      const told = ['changed-by-hand games.hidden on sill: (not there) -> true'];
      const third = write(first.prepared, marked, first.record);
      expect(third.card).toEqual(marked);
      for (const before of [first.record, third.record]) {
        const input = mergeInput(first.prepared, marked, before);
        expect(kept(planFiles(input).value)).toEqual(told);
        const taking = mergeInput(first.prepared, marked, before, { takeProfile: true });
        const taken = planFiles(taking).value;
        expect(carryOut(taking, taken, marked)).toEqual(first.card);
        const [id] = taken.files.flatMap((file) =>
          file.keys.filter((one) => one.act === 'write').map((one) => keyId({ ...one, path: file.path })),
        );
        const alone = mergeInput(first.prepared, marked, before, { answers: new Map([[id ?? '', 'let-alone']]) });
        const left = planFiles(alone).value;
        expect([carryOut(alone, left, marked), kept(left)]).toEqual([marked, []]);
        const after = mergeInput(first.prepared, marked, { ...before, files: left.record });
        expect(kept(planFiles(after).value)).toEqual([]);
      }
    }
  });
});
