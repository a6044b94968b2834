import semver from 'semver';
import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Place } from '../text/place.ts';
import type { Shelf, Shelved } from './shelf.ts';

/** `name@range`, taken apart; a missing range is any version. */
function splitReference(reference: string): { readonly name: string; readonly range: string } {
  const at = reference.lastIndexOf('@');
  return at <= 0 ? { name: reference, range: '*' } : { name: reference.slice(0, at), range: reference.slice(at + 1) };
}

/**
 * The pinned version where it still fits, else the highest that fits the range (semver: these are packages' versions,
 * not frontends'). Errors: `bad-reference`, `no-such-dialect`/`no-such-catalog`, `no-version-fits`.
 */
export function pickVersion(
  shelf: Shelf,
  kind: 'dialect' | 'catalog',
  reference: string,
  place: Place,
  pinned: string | undefined,
): Outcome<Shelved | undefined> {
  const { name, range } = splitReference(reference);
  const fail = (
    code: 'bad-reference' | 'no-such-dialect' | 'no-such-catalog' | 'no-version-fits',
    detail: string,
    wayOut: string,
  ): Outcome<undefined> => ({
    value: undefined,
    findings: [makeFinding(code, { place, detail, wayOut })],
  });
  if (semver.validRange(range) === null)
    return fail(
      'bad-reference',
      `${JSON.stringify(visible(range))} is no range of versions.`,
      `Write ${name}@1, or ${name}@^1.4.`,
    );
  const named = shelf.items.filter((item) => item.name === name);
  if (named.length === 0) {
    const known = [...new Set(shelf.items.map((item) => item.name))];
    const near = nearestNames(name, known);
    const [best] = near;
    return fail(
      kind === 'dialect' ? 'no-such-dialect' : 'no-such-catalog',
      `No ${kind} at hand is called ${JSON.stringify(visible(name))}.`,
      best !== undefined
        ? `Write ${near.join(' or ')}.`
        : known.length > 0
          ? `Write one of ${known.join(', ')}; or put its file into the ${kind}s folder.`
          : `Put its file into the ${kind}s folder beside the profiles, or install a package that has it.`,
    );
  }
  const fitting = named
    .filter((item) => semver.valid(item.version) !== null && semver.satisfies(item.version, range))
    .sort((a, b) => semver.rcompare(a.version, b.version));
  const kept = fitting.find((item) => item.version === pinned);
  const taken = kept ?? fitting[0];
  if (taken === undefined) {
    return fail(
      'no-version-fits',
      `${name} is at hand as ${named.map((item) => item.version || 'no version').join(', ')}, and ${visible(range)} is asked for.`,
      `Write ${name}@^${named[0]?.version ?? '1'}, or install a version that fits.`,
    );
  }
  return { value: taken, findings: [] };
}
