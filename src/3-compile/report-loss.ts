import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { FidelityEntry } from '../model/compiled.ts';
import type { Resolved } from '../model/resolved.ts';

/**
 * A value that no instance of the roles it is for can say is an error; one that only some can say is a warning, since
 * the instances will differ. One finding for one line of the profile.
 */
export function reportLoss(resolved: Resolved, fidelity: readonly FidelityEntry[]): readonly Finding[] {
  const byOrigin = new Map<string, FidelityEntry[]>();
  for (const entry of fidelity) {
    const { place } = entry.decision.origin;
    const key = `${entry.setting} ${entry.item ?? ''} ${place.source.name} ${place.span.start}`;
    const known = byOrigin.get(key);
    if (known === undefined) byOrigin.set(key, [entry]);
    else known.push(entry);
  }
  const findings: Finding[] = [];
  for (const entries of byOrigin.values()) {
    const lost = entries.filter((entry) => entry.fidelity.kind === 'cannot');
    const [first] = lost;
    if (first === undefined) continue;
    const said = entries.filter((entry) => entry.fidelity.kind !== 'cannot');
    const { origin } = first.decision;
    const why = [
      ...new Set(
        lost.map((entry) => `${entry.instance}: ${entry.fidelity.kind === 'cannot' ? entry.fidelity.why : ''}`),
      ),
    ].join('; ');
    const lostNames = [...new Set(lost.map((entry) => entry.instance))];
    const roleless = lostNames.flatMap((name) => resolved.instances.filter((instance) => instance.name === name));
    const own = said.length === 0 ? ownFinding(first, lost) : undefined;
    if (own !== undefined) {
      findings.push(own);
      continue;
    }
    findings.push(
      makeFinding(said.length === 0 ? 'nowhere-expressible' : 'instances-will-differ', {
        place: origin.place,
        related: roleless.map((instance) => ({ place: instance.place, note: `${instance.name} cannot say it` })),
        setting: first.setting,
        ...(said.length === 0 || lostNames.length > 1 ? {} : { instance: first.instance }),
        detail:
          said.length === 0
            ? `No frontend of this device can say ${first.setting} as it is written here (${why}).`
            : `${lostNames.join(' and ')} cannot say ${first.setting} as it is written here (${why}), and keep${lostNames.length > 1 ? '' : 's'} what stands there; the others follow the profile.`,
        wayOut:
          said.length === 0
            ? 'Choose a value that a frontend can say, teach its dialect the spelling with learn, or remove the line.'
            : 'Accept it with an allow entry and a reason, give it in an only block for the frontends that can, or teach the dialect with learn.',
      }),
    );
  }
  return findings;
}

/** What the device lacks, not the dialect: said once, with a way out of its own. */
const lacks: Partial<Readonly<Record<Code, string>>> = {
  'mapping-without-capture':
    'Run fetch on the device and name what it brought, as in controls: { capture: captures/fen.txt }; or take pad.mapping out.',
  'mapping-undecided':
    'Add the facts of the axis to the capture (== axes event0), or give numbering the exact version of SDL; or take pad.mapping out.',
};

function ownFinding(first: FidelityEntry, lost: readonly FidelityEntry[]): Finding | undefined {
  const { fidelity, decision, setting } = first;
  if (fidelity.kind !== 'cannot' || fidelity.code === undefined) return undefined;
  const { code, why } = fidelity;
  const wayOut = lacks[code];
  const shared = lost.every((entry) => entry.fidelity.kind === 'cannot' && entry.fidelity.code === code);
  return wayOut === undefined || !shared
    ? undefined
    : makeFinding(code, {
        place: decision.origin.place,
        setting,
        detail: `${setting} cannot be said: ${why}.`,
        wayOut,
      });
}
