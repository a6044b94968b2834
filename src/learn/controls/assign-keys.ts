import type { KeyWritten } from '../../vocabulary/shapes/dialect.ts';
import type { KeyRow, Observation } from '../contract.ts';
import type { Form } from './numbering-cases.ts';
import { spellings } from './schemes.ts';
import type { Scheme } from './schemes.ts';
import { controlText } from './targets.ts';
import type { ListChord, Target } from './targets.ts';

/** The key or keys of one hotkey or control. */
export interface KeyChoice {
  readonly rows: readonly KeyRow[];
  readonly key: KeyWritten;
  /** What keys that are not in use hold; undefined where nothing tells. */
  readonly nothing: string | undefined;
}

/** By observation: the forms in which the key holds the control there; undefined where it does not. */
type Matches = readonly (ReadonlySet<Form> | undefined)[];

function matchesOf(
  row: KeyRow,
  target: Target,
  scheme: Scheme,
  observations: readonly Observation[],
  chord: ListChord | undefined,
): Matches {
  return observations.map((at, index) => {
    const position = target.known[index];
    const text = controlText(row.held[index], chord);
    if (position === undefined || position === null || text === undefined) return undefined;
    const forms = spellings(scheme, at, position).filter((one) => one.text === text);
    return forms.length === 0 ? undefined : new Set(forms.map(({ form }) => form));
  });
}

/**
 * Every choice of keys that holds the setting's control in each copy where it is known: one key for all forms, or one for
 * buttons and one for axes, of which the other holds what stands for nothing.
 */
export function keyChoices(
  target: Target,
  scheme: Scheme,
  observations: readonly Observation[],
  chord: ListChord | undefined,
): readonly KeyChoice[] {
  const known = target.known.flatMap((position, at) => (position === undefined || position === null ? [] : [at]));
  if (known.length === 0) return [];
  const matched = target.rows.map((row) => ({ row, at: matchesOf(row, target, scheme, observations, chord) }));
  const single = matched.filter(({ at }) => known.every((index) => at[index] !== undefined));
  if (single.length > 0)
    return single.map(({ row }) => ({ rows: [row], key: row.key, nothing: noneText(row, target, chord) }));
  const some = matched.filter(({ at }) => known.some((index) => at[index] !== undefined));
  const found: KeyChoice[] = [];
  for (const [number, one] of some.entries())
    for (const other of some.slice(number + 1)) {
      if (one.row.file !== other.row.file) continue;
      const exactlyOne = known.every((index) => (one.at[index] === undefined) !== (other.at[index] === undefined));
      if (!exactlyOne) continue;
      const rest = new Set(
        known.map((index) => controlText((one.at[index] === undefined ? one : other).row.held[index], chord)),
      );
      const [nothing] = rest;
      if (rest.size !== 1) continue;
      const [a, b] = [formOf(one.at), formOf(other.at)];
      if (a === undefined || b === undefined || a === b) continue;
      const key = Object.fromEntries(
        [[a, one.row.key] as const, [b, other.row.key] as const].sort(
          ([x], [y]) => order.indexOf(x) - order.indexOf(y),
        ),
      );
      found.push({ rows: [one.row, other.row], key, nothing });
    }
  return found;
}

const order: readonly string[] = ['button', 'axis', 'hat'];

/** The kind of a key map that a key is of; a hat without a key of its own uses the button's. */
function formOf(matches: Matches): 'button' | 'axis' | 'hat' | undefined {
  const forms = new Set(matches.flatMap((one) => [...(one ?? [])]));
  if (forms.has('axis')) return forms.size === 1 ? 'axis' : undefined;
  if (forms.has('button') || forms.has('text')) return 'button';
  return forms.has('hat') ? 'hat' : undefined;
}

function noneText(row: KeyRow, target: Target, chord: ListChord | undefined): string | undefined {
  const at = target.known.findIndex((position) => position === null);
  return at < 0 ? undefined : controlText(row.held[at], chord);
}
