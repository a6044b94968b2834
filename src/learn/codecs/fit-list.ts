import type { SyntaxValue } from '../../syntax/contract.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import type { Fit, FitMaker, Point } from './contract.ts';

const separators = [', ', ',', '; ', ';', '|', ' ', ':'] as const;

function itemsOf({ value }: Point): readonly string[] | undefined {
  return value.kind === 'words' ? value.words : value.kind === 'texts' ? value.texts : undefined;
}

function split(
  held: SyntaxValue,
  separator: string | undefined,
  empty: string | undefined,
): readonly string[] | undefined {
  if (separator === undefined) return held.kind === 'list' ? held.items.map(({ text }) => text) : undefined;
  if (held.kind === 'list') return undefined;
  return held.text === (empty ?? '') ? [] : held.text.split(separator);
}

/** Several items in one key, joined or as the format's own list, each as it is or by a word of the frontend's. */
export const fitList: FitMaker = (setting, points) => {
  const { type } = setting;
  if (type.kind !== 'words' && type.kind !== 'texts') return [];
  const lists = points.some(({ held }) => held.kind === 'list');
  const empties = points.flatMap((point) =>
    itemsOf(point)?.length === 0 && point.held.kind === 'scalar' && point.held.text !== '' ? [point.held.text] : [],
  );
  const [empty] = empties;
  const found = (lists ? [undefined] : separators).flatMap((separator) => fitOne(setting, points, separator, empty));
  // A separator that never shows is a guess among all of them.
  const shown = found.filter(({ shows }) => shows);
  return (shown.length > 0 ? shown : found.slice(0, lists ? 1 : 0)).map(({ fit }) => fit);
};

function fitOne(
  setting: SettingDefinition,
  points: readonly Point[],
  separator: string | undefined,
  empty: string | undefined,
): readonly { readonly fit: Fit; readonly shows: boolean }[] {
  const spelled = new Map<string, string>();
  let shows = separator === undefined;
  for (const point of points) {
    const items = itemsOf(point);
    const texts = split(point.held, separator, empty);
    if (items === undefined || texts?.length !== items.length) return [];
    if (items.length > 1) shows = true;
    for (const [at, item] of items.entries()) {
      const text = texts[at] ?? '';
      if ((spelled.get(item) ?? text) !== text) return [];
      spelled.set(item, text);
    }
  }
  const same = [...spelled].every(([item, text]) => item === text);
  if (spelled.size === 0 || (!same && setting.type.kind === 'texts')) return [];
  const fit: Fit = {
    codec: {
      list: {
        ...(separator === undefined ? {} : { separator }),
        ...(same ? {} : { values: Object.fromEntries(spelled) }),
        ...(empty === undefined ? {} : { empty }),
      },
    },
    kind: same ? 'law' : 'table',
    says: separator === undefined ? 'a list of the file format' : `items joined by ${JSON.stringify(separator)}`,
  };
  return [{ fit, shows }];
}
