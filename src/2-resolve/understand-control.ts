import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { Path } from '../model/document.ts';
import type { ControlWish, Wish } from '../model/resolved.ts';
import { isPosition, positions } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import type { Written } from './understand.ts';

/** A reference to a control, found or not. `as` is how it was written, for messages. */
export type Reference =
  | { readonly kind: 'found'; readonly position: Position }
  | { readonly kind: 'missing'; readonly as: string }
  | { readonly kind: 'wrong'; readonly finding: Finding };

/** A position name or `{ label: A }`, looked up among the device's controls. */
export function findControl(value: unknown, written: Written, path: Path, setting: SettingDefinition): Reference {
  const { controls } = written.controls;
  const wrong = (what: string, wayOut: string): Reference => ({
    kind: 'wrong',
    finding: makeFinding('wrong-value', {
      place: written.document.place(path),
      setting: setting.id,
      detail: `${setting.id}: ${what}.`,
      wayOut,
    }),
  });
  if (typeof value === 'string') {
    if (isPosition(value))
      return controls.has(value) ? { kind: 'found', position: value } : { kind: 'missing', as: value };
    const near = nearestNames(value, positions)[0];
    const labelled = [...controls.values()].find((control) => control.label === value);
    if (labelled !== undefined)
      return wrong(
        `${JSON.stringify(value)} is a label, not a position`,
        `Write { label: ${value} }, or ${labelled.position}.`,
      );
    return wrong(
      `no position is called ${JSON.stringify(value)}`,
      `Write ${near ?? `a position such as ${positions.slice(0, 4).join(', ')}`}.`,
    );
  }
  if (typeof value === 'object' && value !== null && 'label' in value && typeof value.label === 'string') {
    const { label } = value;
    const having = [...controls.values()].filter((control) => control.label === label);
    const [first, second] = having;
    if (first === undefined) return { kind: 'missing', as: `a control labelled ${label}` };
    if (second !== undefined)
      return wrong(
        `two controls are labelled ${label}`,
        `Write the position instead: ${having.map((c) => c.position).join(' or ')}.`,
      );
    return { kind: 'found', position: first.position };
  }
  return wrong('it names a control', 'Write a position such as south, or { label: A }.');
}

/** `none`, one control, or a list of wishes, best first. Missing ones drop out; that none is left matters where it wins. */
export function understandControl(setting: SettingDefinition, written: Written): Outcome<Wish | undefined> {
  const { value } = written;
  const listed: readonly unknown[] = Array.isArray(value) ? value : [value];
  const findings: Finding[] = [];
  const wishes: ControlWish[] = [];
  const missing: string[] = [];
  listed.forEach((item: unknown, index) => {
    const path = Array.isArray(value) ? [...written.path, index] : written.path;
    const place = written.document.place(path);
    if (item === 'none') {
      wishes.push({ kind: 'none', index, place });
      return;
    }
    const reference = findControl(item, written, path, setting);
    if (reference.kind === 'found') wishes.push({ kind: 'control', position: reference.position, index, place });
    else if (reference.kind === 'missing') missing.push(reference.as);
    else findings.push(reference.finding);
  });
  const understood = wishes.length > 0 || missing.length > 0;
  return { value: understood ? { kind: 'controls', wishes, missing } : undefined, findings };
}

/** What a line says that asks for nothing but what the device lacks, where it wins. */
export function controlMissing(
  setting: string,
  missing: readonly string[],
  has: readonly string[],
): { readonly detail: string; readonly wayOut: string } {
  const near = nearestNames(missing[0] ?? '', has);
  return {
    detail: `${setting} asks for ${missing.join(' or ')}, which this device does not have.`,
    wayOut: `${near.length > 0 ? `Write ${near.join(' or ')}` : 'Write another control'}, add a second wish, or give it in an only block for the devices that have it.`,
  };
}
