import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { Place } from '../text/place.ts';
import { compileDialect } from './compile-dialect.ts';
import type { CompiledEntry, CompiledRecords } from './compiled-dialect.ts';
import type { Context, Lens } from './contract.ts';
import { DialectLens } from './dialect-lens.ts';
import { compareVersions, lowestOf, satisfiesVersions } from './frontend-version.ts';

/**
 * The lens of one instance. What is wrong with the dialect itself is left out of the lens and found by `checkDialect`,
 * once for all instances; the findings here are of this instance alone.
 *
 * Of the spellings of a setting those count whose `versions` hold the instance's; spellings without `versions` stand
 * back behind them. With an unknown version those without `versions` count, else the newest, with a note.
 */
export function makeLens(context: Context, syntaxes: Readonly<Record<SyntaxName, Syntax>>): Outcome<Lens> {
  const compiled = compileDialect(context.dialect);
  const findings: Finding[] = [];
  const entries = new Map<string, readonly CompiledEntry[]>();
  const guess = (setting: string, { place }: { readonly place: Place }): void => {
    findings.push(
      makeFinding('spelling-of-newest', {
        place,
        setting,
        instance: context.instance,
        detail: `The version of ${context.instance} is unknown, and ${setting} is spelled otherwise in other versions; this is the newest spelling.`,
        wayOut: `Give the version of ${context.instance} in the profile.`,
      }),
    );
  };
  for (const [setting, all] of compiled.entries) {
    const chosen = choose(all, context.version);
    if (chosen.entries.length > 0) entries.set(setting, chosen.entries);
    if (chosen.guessed !== undefined) guess(setting, chosen.guessed);
  }
  const records = new Map<string, CompiledRecords>();
  for (const [setting, all] of compiled.records) {
    const chosen = choose(all, context.version);
    const [first] = chosen.entries;
    if (first !== undefined) records.set(setting, first);
    if (chosen.guessed !== undefined) guess(setting, chosen.guessed);
  }
  const computed = compiled.computed.filter(
    ({ written }) =>
      written.versions === undefined ||
      context.version === undefined ||
      satisfiesVersions(context.version, written.versions),
  );
  return { value: new DialectLens(context, syntaxes, compiled.files, entries, computed, records), findings };
}

function choose<Entry extends { readonly versions: string | undefined }>(
  all: readonly Entry[],
  version: string | undefined,
): { readonly entries: readonly Entry[]; readonly guessed?: Entry } {
  const always = all.filter((entry) => entry.versions === undefined);
  const ranged = all.filter((entry) => entry.versions !== undefined);
  if (version !== undefined) {
    return { entries: [...ranged.filter((entry) => satisfiesVersions(version, entry.versions ?? '')), ...always] };
  }
  if (always.length > 0 || ranged.length === 0) return { entries: always };
  const rank = (entry: Entry): string => lowestOf(entry.versions ?? '') ?? '0';
  const newest = ranged.reduce((best, entry) => (compareVersions(rank(entry), rank(best)) > 0 ? entry : best));
  const same = ranged.filter((entry) => entry.versions === newest.versions);
  return { entries: same, ...(ranged.length > same.length ? { guessed: newest } : {}) };
}
