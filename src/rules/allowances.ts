import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { catalogue } from '../diagnostics/catalogue.ts';
import { ruleCodes } from '../diagnostics/catalogue/rules.ts';
import type { Finding } from '../diagnostics/finding.ts';
import type { Allowance } from '../model/resolved.ts';

/** What can be intended: findings of sense, not those of text that cannot be read or compiled. */
function allowable(finding: Finding): boolean {
  return Object.hasOwn(ruleCodes, finding.code) || finding.grade !== 'error';
}

function meant(allowance: Allowance, finding: Finding): boolean {
  if (allowance.finding !== finding.code || !allowable(finding)) return false;
  if (allowance.reach === undefined) return true;
  const names = [
    finding.instance,
    finding.setting,
    finding.setting?.replace(/^hotkeys\.bind\./, ''),
    ...(finding.about ?? []),
  ];
  return allowance.reach.some((name) => names.includes(name));
}

/**
 * Takes out what the profile allows. An allowance that matches nothing is a warning, so that none outlives its
 * reason; but not for the codes `unasked`, whose rules did not run.
 */
export function applyAllowances(
  findings: readonly Finding[],
  allow: readonly Allowance[],
  unasked: readonly string[] = [],
): readonly Finding[] {
  const used = new Set<Allowance>();
  const left = findings.filter((finding) => {
    const allowance = allow.find((entry) => meant(entry, finding));
    if (allowance !== undefined) used.add(allowance);
    return allowance === undefined;
  });
  // Where something is broken, not every rule could look: what would have been allowed may just not have been seen.
  const broken = left.some(({ grade }) => grade === 'error');
  for (const entry of allow) {
    const known = Object.hasOwn(catalogue, entry.finding);
    if (used.has(entry) || (known && (broken || unasked.includes(entry.finding)))) continue;
    const near = known ? [] : nearestNames(entry.finding, Object.keys(catalogue));
    left.push(
      makeFinding('allowance-unused', {
        place: entry.place,
        detail: known
          ? `Nothing here raises ${entry.finding}${entry.reach === undefined ? '' : ` for ${entry.reach.join(' or ')}`}.`
          : `No finding is called ${entry.finding}.`,
        wayOut: near.length > 0 ? `Write ${near.join(' or ')}.` : 'Remove the entry.',
      }),
    );
  }
  return left;
}
