import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ini } from '../../src/syntax/ini/ini.ts';
import type { Change } from '../../src/syntax/contract.ts';
import { applyEdits } from '../../src/text/text-edit.ts';

const dialects = 'profiles/dialects';

/** Where Fen's frontends lie on its card, and the stock tree of each. */
const frontends: readonly (readonly [string, string])[] = [
  ['settings', 'sedge/stock/3.2.1'],
  ['settings/hall', 'harrow/stock/2.1.4'],
  ['settings/annex', 'harrow/stock/2.1.4'],
  ['games/sill', 'sill/stock/4.0.2'],
  ['games/coble', 'coble/stock/1.6.0'],
];

/** A folder as Fen's card is, fresh from its image. */
export function makeCard(folder: string): void {
  for (const [root, stock] of frontends) cpSync(join(dialects, stock), join(folder, root), { recursive: true });
}

/**
 * What the update of Sedge from 3.2.1 to 3.3.0 does to a card: it renames two keys and carries their values over, adds
 * forty, puts the settings of one frontend back to stock, and drops the known networks.
 */
export function updateCard(folder: string): void {
  const settings = join(folder, 'settings');
  const style = { comment: '#' };
  const parse = (name: string, text: string): NonNullable<ReturnType<typeof ini.parse>['tree']> => {
    const { tree } = ini.parse({ name, text }, style);
    if (tree === undefined) throw new Error(`${name} cannot be read.`);
    return tree;
  };
  const own = parse('sedge.ini', readFileSync(join(settings, 'sedge.ini'), 'utf8'));
  const stock = readFileSync(join(dialects, 'sedge/stock/3.3.0/sedge.ini'), 'utf8');
  const renamed = new Map([
    ['[clock] zone', '[clock] town'],
    ['[lantern] wick', '[lantern] flame'],
  ]);
  const carried = own.keys().flatMap(({ path }): Change[] => {
    const value = own.get(path);
    return value === undefined ? [] : [{ op: 'set', path: renamed.get(path) ?? path, value }];
  });
  const fresh = parse('sedge.ini', stock);
  writeFileSync(join(settings, 'sedge.ini'), applyEdits(stock, ini.change(fresh, carried).edits));
  cpSync(join(dialects, 'sedge/stock/3.3.0/release'), join(settings, 'release'));
  cpSync(join(dialects, 'harrow/stock/2.1.4/play.conf'), join(settings, 'annex/play.conf'));
  rmSync(join(settings, 'wifi'), { recursive: true, force: true });
}
