import type { ChordConflict } from '../../controls/chords/find-conflicts.ts';
import type { Code } from '../../diagnostics/catalogue.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';
import { conflictsOf } from './bound-presses.ts';
import type { Bound } from './bound-presses.ts';

interface Telling {
  readonly detail: string;
  readonly wayOut: string;
  /** What the second press is to the reader: 'the other chord'. */
  readonly note?: string;
}

/** A rule that tells one kind of conflict; one mistake in a shared line is told once, with the instances that have it. */
export function chordRule<K extends ChordConflict['kind']>(
  code: Code,
  kind: K,
  tell: (first: Bound, second: Bound | undefined, conflict: Extract<ChordConflict, { kind: K }>) => Telling,
): Rule {
  const isKind = (conflict: ChordConflict): conflict is Extract<ChordConflict, { kind: K }> => conflict.kind === kind;
  return {
    name: code,
    codes: [code],
    check(input) {
      const { device } = input.resolved;
      const findings = new Map<string, Finding>();
      for (const { conflict, presses } of conflictsOf(input)) {
        const [first, second] = presses;
        if (!isKind(conflict) || first === undefined) continue;
        const key = presses.map(({ place, action }) => `${place.source.name} ${place.span.start} ${action}`).join('; ');
        if (findings.has(key)) continue;
        const { detail, wayOut, note } = tell(first, second, conflict);
        findings.set(
          key,
          makeFinding(code, {
            place: first.place,
            ...(second === undefined || note === undefined ? {} : { related: [{ place: second.place, note }] }),
            ...(first.setting === undefined ? {} : { setting: first.setting }),
            ...(first.instance === undefined ? {} : { instance: first.instance }),
            about: presses.flatMap(({ action, instance }) => (instance === undefined ? [action] : [action, instance])),
            detail,
            wayOut,
            picture: {
              body: device.body,
              has: [...device.controls.controls.keys()],
              marked: [...new Set(presses.flatMap(({ positions }) => positions))],
            },
          }),
        );
      }
      return [...findings.values()];
    },
  };
}
