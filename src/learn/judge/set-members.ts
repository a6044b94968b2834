import type { Value } from '../../model/value.ts';
import type { EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import type { KeyRow, SettingRow } from '../contract.ts';
import { heldText } from '../copies/key-table.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { claimsOf } from '../labels/claims.ts';
import type { Claim } from '../labels/claims.ts';
import { nameScore } from '../names/name-score.ts';
import { nameWords } from '../names/name-words.ts';

/** A set as switches: a key for each word that ever moved. */
export interface MembersFound {
  readonly codec: EntryWritten;
  readonly rows: readonly KeyRow[];
  /** Words whose key is told by its name alone, among several that moved alike. */
  readonly byName: readonly string[];
}

/** The members of a set as separate switches, each of which follows one word of the set; on and off are alike in all. */
export function setMembers(
  table: KeyTable,
  setting: SettingRow,
  rows: readonly KeyRow[],
  idle: ReadonlySet<number>,
): MembersFound | undefined {
  const { type } = setting.setting;
  if (type.kind !== 'words') return undefined;
  const words = type.of.flatMap((word) => {
    const known = setting.known.map((value): Value | undefined =>
      value?.kind === 'words' ? { kind: 'boolean', is: value.words.includes(word) } : undefined,
    );
    const states = new Set(known.flatMap((value) => (value?.kind === 'boolean' ? [value.is] : [])));
    if (states.size < 2) return [];
    const asSwitch = { ...setting, known, setting: { ...setting.setting, type: { kind: 'boolean' } as const } };
    return [{ word, known, claims: claimsOf(table, asSwitch, rows, idle) }];
  });
  if (words.length === 0) return undefined;
  // Switches of one set stand together: of the groups of keys, the one that has a key for every word.
  const homes = new Set(words.flatMap(({ claims }) => claims.map(({ row }) => homeOf(row))));
  const found = [...homes].flatMap((home) => inHome(setting, words, home) ?? []);
  return found.length === 1 ? found[0] : undefined;
}

interface Word {
  readonly word: string;
  readonly known: readonly (Value | undefined)[];
  readonly claims: readonly Claim[];
}

/** A key without its last part, in its file. */
function homeOf({ file, key }: KeyRow): string {
  return `${file} ${key.replace(/[^/.\]\s]*$/, '')}`;
}

function inHome(setting: SettingRow, words: readonly Word[], home: string): MembersFound | undefined {
  const keys = new Map<string, KeyRow>();
  const byName: string[] = [];
  const texts = new Map<boolean, string>();
  for (const { word, known, claims } of words) {
    const scored = claims
      .filter(({ row }) => homeOf(row) === home)
      .map(({ row }) => ({
        row,
        score: nameScore({ ...setting.setting, id: word, words: [word, ...nameWords(word)] }, row.key),
      }))
      .sort((a, b) => b.score - a.score);
    const [best, second] = scored;
    if (best === undefined || (second !== undefined && best.score <= second.score)) return undefined;
    // Where a key has the very word and no other has it, its name is no guess.
    if (second !== undefined && !(best.score >= 0.75 && second.score <= 0.35)) byName.push(word);
    keys.set(word, best.row);
    for (const [at, value] of known.entries()) {
      if (value?.kind !== 'boolean') continue;
      const text = heldText(best.row.held[at]);
      if ((texts.get(value.is) ?? text) !== text) return undefined;
      texts.set(value.is, text);
    }
  }
  const [on, off] = [texts.get(true), texts.get(false)];
  if (keys.size === 0 || on === undefined || off === undefined || new Set(keys.values()).size < keys.size)
    return undefined;
  const members = {
    keys: Object.fromEntries([...keys].map(([word, { key }]) => [word, key])),
    ...(on === 'true' ? {} : { on }),
    ...(off === 'false' ? {} : { off }),
  };
  return { codec: { members }, rows: [...keys.values()], byName };
}
