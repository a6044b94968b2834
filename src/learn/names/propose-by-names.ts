import type { SettingDefinition } from '../../vocabulary/types.ts';
import { assign } from './assign.ts';
import type { Assigned } from './assign.ts';
import { guessCodec } from './guess-codec.ts';
import type { Guess } from './guess-codec.ts';
import { plainWord } from './name-words.ts';
import { rankSettings } from './rank-settings.ts';
import type { RankedKey } from './rank-settings.ts';
import type { SeenKey } from './seen-key.ts';
import { unitSaid } from './value-fit.ts';
import type { ValueKind } from './value-kind.ts';

/** How one setting may be spelled, by what names and values say. Never surer than likely. */
export interface NameProposal {
  readonly setting: SettingDefinition;
  /** The one system that its file or key names. */
  readonly system: string | undefined;
  readonly grade: 'likely' | 'possible';
  /** Above 0; about 1 where the trade's very words are said and nothing else. */
  readonly score: number;
  readonly keys: readonly { readonly file: string; readonly key: string }[];
  /** How its values are spelled, as far as its first key tells. */
  readonly guess: Guess;
  /** Clauses, most telling first. Of values only the spellings of switches and of the setting's words are in them. */
  readonly evidence: readonly string[];
  readonly rivals: readonly string[];
}

function evidenceOf({ candidate: { match }, keys }: Assigned, guess: Guess): readonly string[] {
  const [first] = keys;
  if (first === undefined) return [];
  // Two words that are read as one thing stand twice among those that say it.
  const by = match.by.filter(({ text }, at) => match.by.findIndex((other) => other.text === text) === at);
  const said = by.map(({ text, as }) => (as === undefined || as === text ? `'${text}'` : `'${text}' (${as})`));
  const fromComment = match.by.some((word) => first.name.comment.includes(word));
  const same = by.map(({ text }) => text).join(' ') === match.phrase.text;
  return [
    `it says ${said.join(', ')}, as the trade ${same ? 'does' : `says '${match.phrase.text}'`}`,
    ...(match.turned ? ['its words turn the sense round'] : []),
    ...(first.name.byComment || fromComment ? ['the comment above it says so'] : []),
    ...(keys.length > 1 ? [`${keys.length} keys have the same name but for the form of the control`] : []),
    ...(guess.kind === 'codec' ? [guess.says] : []),
  ];
}

/** What may not be proposed, since it is known otherwise. */
export interface Known {
  readonly isKey: (seen: SeenKey) => boolean;
  readonly isSetting: (setting: SettingDefinition, system: string | undefined) => boolean;
}

const nothing: Known = { isKey: () => false, isSetting: () => false };

/** By file and plain word: how its switches are written. */
function switchTexts(ranked: readonly RankedKey[]): ReadonlyMap<string, ReadonlyMap<string, string>> {
  const found = new Map<string, Map<string, string>>();
  for (const { seen, value } of ranked) {
    if (value.kind !== 'switch') continue;
    const own = found.get(seen.file) ?? new Map<string, string>();
    found.set(seen.file, own.set(plainWord(value.text), value.text));
  }
  return found;
}

/** A switch whose other way is written as another key of its file has it, accents and capitals included. */
function asFileWrites(value: ValueKind, written: ReadonlyMap<string, string> | undefined): ValueKind {
  if (value.kind !== 'switch') return value;
  return { ...value, other: written?.get(plainWord(value.other)) ?? value.other };
}

/**
 * Settings that the keys of one copy may say, by names, values, comments and neighbours: at most one setting a key. No
 * value is repeated in what is returned, but for the spellings of switches and of words of the setting.
 */
export function proposeByNames(keys: readonly SeenKey[], known: Known = nothing): readonly NameProposal[] {
  const { ranked, facets } = rankSettings(keys);
  const switches = switchTexts(ranked);
  const open = ranked
    .filter(({ seen }) => !known.isKey(seen))
    .map((one) => ({
      ...one,
      candidates: one.candidates.filter(({ setting }) => !known.isSetting(setting, one.seen.system)),
    }));
  return assign(open, facets).flatMap((assigned) => {
    const [first] = assigned.keys;
    if (first === undefined) return [];
    const { match, score } = assigned.candidate;
    const { seen, value, name } = first;
    const written = value.kind === 'number' && value.unit !== '' ? unitSaid(value.unit) : undefined;
    const guess = guessCodec(assigned.setting, {
      held: seen.value,
      value: asFileWrites(value, switches.get(seen.file)),
      turned: match.turned,
      unit: name.unit ?? written,
    });
    return [
      {
        setting: assigned.setting,
        system: assigned.system,
        grade: assigned.grade,
        score,
        keys: assigned.keys.map(({ seen: { file, key } }) => ({ file, key })),
        guess,
        evidence: evidenceOf(assigned, guess),
        rivals: assigned.rivals,
      },
    ];
  });
}
