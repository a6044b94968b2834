import type { Finding, Outcome } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Value } from '../../model/value.ts';
import { sameValue } from '../../model/value.ts';
import type { Label, Observation, Series, SettingRow } from '../contract.ts';

/** A name for a setting at its scope. */
export function rowName({ setting, scope }: Pick<Label, 'setting' | 'scope'>): string {
  const narrowed = scope.system ?? scope.core;
  return narrowed === undefined ? setting.id : `${setting.id} for ${narrowed}`;
}

/** What a boolean was before it was changed is known. */
function before(value: Value): Value | undefined {
  return value.kind === 'boolean' ? { kind: 'boolean', is: !value.is } : undefined;
}

/**
 * Labels as values through all observations: a value holds until the next label of its setting. Before the first one it is
 * unknown, but of a switch. Findings: `labels-contradict`.
 */
export function settingRows(
  series: readonly Series[],
  observations: readonly Observation[],
): Outcome<readonly SettingRow[]> {
  const findings: Finding[] = [];
  const contradicted = new Set<string>();
  const rows = new Map<string, { row: SettingRow; known: (Value | undefined)[]; changed: Set<number> }>();
  for (const one of series) {
    const start = observations.findIndex(({ series: other }) => other === one);
    const byName = new Map<string, Label[]>();
    for (const label of one.labels) byName.set(rowName(label), [...(byName.get(rowName(label)) ?? []), label]);
    for (const [name, labels] of byName) {
      const [first] = labels;
      if (first === undefined) continue;
      let entry = rows.get(name);
      if (entry === undefined) {
        const known: (Value | undefined)[] = observations.map(() => undefined);
        const changed = new Set<number>();
        const manner = labels.find((label) => label.manner !== undefined)?.manner;
        entry = { row: { setting: first.setting, scope: first.scope, known, changed, manner }, known, changed };
        rows.set(name, entry);
      }
      let current: Value | undefined;
      for (const [copy] of one.copies.entries()) {
        const here = labels.filter((label) => label.copy === copy && label.told === 'changed');
        const stands = labels.find((label) => label.told === 'stands');
        const [told, ...others] = here;
        const other = others.find(({ value }) => told !== undefined && !sameValue(value, told.value));
        if (told !== undefined && other !== undefined) {
          findings.push(contradiction(name, one, copy));
          contradicted.add(name);
        }
        if (told !== undefined) {
          if (stands !== undefined) {
            findings.push(contradiction(name, one, copy));
            contradicted.add(name);
          }
          if (current === undefined) {
            const was = before(told.value);
            for (let at = 0; at < copy; at++) entry.known[start + at] = was;
          }
          entry.changed.add(start + copy);
          current = told.value;
        } else current = stands?.value ?? current;
        if (current !== undefined) entry.known[start + copy] = current;
      }
    }
  }
  // Nothing can be learnt of a setting of which two things are said.
  const sound = [...rows].flatMap(([name, { row }]) => (contradicted.has(name) ? [] : [row]));
  return { value: sound, findings };
}

function contradiction(name: string, { copies }: Series, copy: number): Finding {
  return makeFinding('labels-contradict', {
    detail: `Of ${copies[copy]?.name ?? 'a copy'} two different things are said about ${name}, and only one can be true.`,
    wayOut: 'Say it once for each copy, with the value that the menu had when you left it.',
  });
}
