import { isAboutControl } from '../../vocabulary/about-control.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { bindLooks, groupOf } from './bind-look.ts';
import { keyName } from './key-name.ts';
import type { KeyName } from './key-name.ts';
import { wordsOf } from './lexicon.ts';
import { matchName, readyName } from './match-name.ts';
import type { NameMatch } from './match-name.ts';
import { byConcept } from './phrases.ts';
import type { Called } from './phrases.ts';
import type { SeenKey } from './seen-key.ts';
import { weightlessFor } from './weightless.ts';
import { valueFit } from './value-fit.ts';
import { valueKind } from './value-kind.ts';
import type { ValueKind } from './value-kind.ts';

/** One setting that a key may say. */
export interface Candidate {
  readonly setting: SettingDefinition;
  readonly score: number;
  readonly match: NameMatch;
}

export interface RankedKey {
  readonly seen: SeenKey;
  readonly name: KeyName;
  readonly value: ValueKind;
  /** Best first, at most six. */
  readonly candidates: readonly Candidate[];
}

/** Own words that at least half of a file's keys share (a prefix of the program): they name the group, not the key. */
function sharedWords(keys: readonly SeenKey[]): ReadonlySet<string> {
  const counts = new Map<string, number>();
  for (const { parts } of keys)
    for (const text of new Set(wordsOf(parts.at(-1) ?? '').map((word) => word.text)))
      counts.set(text, (counts.get(text) ?? 0) + 1);
  return new Set([...counts].filter(([, count]) => keys.length >= 6 && count * 2 >= keys.length).map(([text]) => text));
}

/**
 * Last words that are put behind the same names, as `leave-button` and `leave-tilt`: forms of a control, not names. At least
 * three names share each two of them.
 */
function facetsOf(keys: readonly SeenKey[]): ReadonlySet<string> {
  const bases = new Map<string, Set<string>>();
  const count = new Map<string, number>();
  for (const { parts, file } of keys) {
    const words = wordsOf(parts.at(-1) ?? '');
    const last = words.at(-1);
    if (last === undefined || words.length < 2) continue;
    const base = [file, ...parts.slice(0, -1), ...words.slice(0, -1).map(({ text }) => text)].join(' ');
    const known = bases.get(base);
    if (known === undefined) bases.set(base, new Set([last.text]));
    else known.add(last.text);
  }
  for (const ends of bases.values())
    if (ends.size > 1) for (const end of ends) count.set(end, (count.get(end) ?? 0) + 1);
  return new Set([...count].filter(([, times]) => times >= 3).map(([end]) => end));
}

/** Settings that each key may say, best first, judged by its name, its value, and its neighbours. */
export function rankSettings(keys: readonly SeenKey[]): {
  readonly ranked: readonly RankedKey[];
  readonly facets: ReadonlySet<string>;
} {
  const byFile = new Map<string, SeenKey[]>();
  for (const seen of keys) {
    const known = byFile.get(seen.file);
    if (known === undefined) byFile.set(seen.file, [seen]);
    else known.push(seen);
  }
  const shared = new Map([...byFile].map(([file, own]) => [file, sharedWords(own)]));
  const facets = facetsOf(keys);
  const told = keys.map((seen) => ({ seen, value: valueKind(seen.value) }));
  // A file that writes its switches as words means numbers by 0 and 1.
  const wordy = new Map<string, number>();
  for (const { seen, value } of told)
    if (value.kind === 'switch' && !/^[01]$/.test(value.text)) wordy.set(seen.file, (wordy.get(seen.file) ?? 0) + 1);
  const judged = told.map(({ seen, value }) =>
    value.kind === 'switch' && /^[01]$/.test(value.text) && (wordy.get(seen.file) ?? 0) >= 3
      ? { seen, value: { kind: 'number', amount: Number(value.text), unit: '', digits: true } as const }
      : { seen, value },
  );
  const looks = bindLooks(judged);
  const first = judged.map(({ seen, value }): RankedKey => {
    const name = keyName(seen, shared.get(seen.file) ?? new Set());
    return { seen, name, value, candidates: candidatesOf(name, value, looks.get(seen) ?? 0, facets) };
  });
  return { ranked: withNeighbours(first), facets };
}

/** What is below this is no candidate. */
const leastScore = 0.2;

function candidatesOf(
  name: KeyName,
  value: ValueKind,
  look: number,
  facets: ReadonlySet<string>,
): readonly Candidate[] {
  const near = new Set<Called>();
  for (const words of [name.own, name.above])
    for (const word of words)
      for (const concept of word.concepts) for (const called of byConcept.get(concept) ?? []) near.add(called);
  if (near.size === 0) return [];
  const found: Candidate[] = [];
  const ready = readyName(name);
  for (const called of near) {
    const { setting } = called;
    const bind = isAboutControl(setting);
    // What has a unit is an amount.
    if (bind && name.unit !== undefined && name.unit.unit !== 'frames') continue;
    // Among hotkeys a number is rather a control's than an amount.
    const among = value.kind === 'control' && value.certain ? 0.1 : value.kind === 'number' && look >= 0.8 ? 0.65 : 1;
    const fit = valueFit(setting, value, name.unit) * (bind ? look : among);
    if (fit < 0.15) continue;
    const weightless = weightlessFor(setting, name, facets);
    const match = matchName(called, ready, { weightless }, leastScore / fit);
    if (match !== undefined && match.score * fit > leastScore) found.push({ setting, score: match.score * fit, match });
  }
  return found.sort((a, b) => b.score - a.score).slice(0, 6);
}
/** Keys beside others that are surely of a group are rather of that group than of another: a small push, at most a tenth. */
function withNeighbours(ranked: readonly RankedKey[]): readonly RankedKey[] {
  const sure = new Map<string, Map<string, number>>();
  const groupFor = ({ id }: SettingDefinition): string => id.split('.')[0] ?? id;
  for (const { seen, candidates } of ranked) {
    const [best] = candidates;
    if (best === undefined || best.score < 0.6) continue;
    const at = groupOf(seen);
    const counts = sure.get(at) ?? new Map<string, number>();
    counts.set(groupFor(best.setting), (counts.get(groupFor(best.setting)) ?? 0) + 1);
    sure.set(at, counts);
  }
  return ranked.map((one) => {
    const counts = sure.get(groupOf(one.seen));
    if (counts === undefined || one.candidates.length === 0) return one;
    const all = [...counts.values()].reduce((sum, count) => sum + count, 0);
    const pushed = one.candidates.map((candidate) => {
      const beside =
        (counts.get(groupFor(candidate.setting)) ?? 0) -
        (one.candidates[0] === candidate && candidate.score >= 0.6 ? 1 : 0);
      return {
        ...candidate,
        score: candidate.score * (1 + 0.1 * Math.min(1, Math.max(0, beside) / Math.max(2, all - 1))),
      };
    });
    return { ...one, candidates: pushed.sort((a, b) => b.score - a.score) };
  });
}
