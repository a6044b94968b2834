import type { Finding, Mend } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DeviceControl } from '../model/device.ts';
import type { Place } from '../text/place.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { DeviceControlsWritten, ListedControlWritten } from '../vocabulary/shapes/profile.ts';
import { sourceKey } from './control-code.ts';
import { eventCode } from './event-codes.ts';
import { positionCodes } from './position-codes.ts';
import type { ControlPlaces } from './read-controls.ts';

/** Two controls that would send one code: `one-code-two-controls`, with the swap as its mend where the two are wired crosswise. */
export function sharedCodes(
  controls: ReadonlyMap<Position, DeviceControl>,
  written: DeviceControlsWritten,
  places: ControlPlaces,
): readonly Finding[] {
  const first = new Map<string, DeviceControl>();
  const findings: Finding[] = [];
  const told = new Set<string>();
  for (const control of controls.values()) {
    for (const source of control.sources) {
      const other = first.get(sourceKey(source));
      first.set(sourceKey(source), other ?? control);
      if (other === undefined || other === control || told.has(`${other.position} ${control.position}`)) continue;
      told.add(`${other.position} ${control.position}`);
      // The one at whose place the code belongs by convention gets the other's code.
      const [keeps, gives] = belongs(control.position, source.number) ? [other, control] : [control, other];
      const code = positionCodes[keeps.position][0];
      const swap = code !== undefined && belongs(gives.position, source.number);
      const mend = swap ? writeCode(gives.position, code, written, places) : undefined;
      findings.push(
        makeFinding('one-code-two-controls', {
          place: control.place,
          related: [{ place: other.place, note: `${source.code} is also what this sends` }],
          detail: `${other.position} and ${control.position} would both send ${source.code}.`,
          wayOut: swap
            ? `If the two are wired crosswise, write code: ${code} under ${gives.position}; else take the code away from ${keeps.position}.`
            : 'Write under one of them the code that it really sends.',
          ...(mend === undefined ? {} : { mend }),
        }),
      );
    }
  }
  return findings;
}

function belongs(position: Position, number: number): boolean {
  return positionCodes[position].some((text) => eventCode(text.replace(/[+-]$/, ''))?.number === number);
}

/** The edit that gives a listed control a code, in the style in which it is written; none where that cannot be told. */
function writeCode(
  position: Position,
  code: string,
  written: DeviceControlsWritten,
  places: ControlPlaces,
): Mend | undefined {
  const entry = written[position];
  if (entry === undefined || typeof entry !== 'object' || Array.isArray(entry)) return undefined;
  const listed: ListedControlWritten = entry;
  if (typeof listed.code === 'string') {
    const { source, span } = places.place([position, 'code']);
    return source.text.slice(span.start, span.end) === listed.code
      ? { grade: 'likely', source, edits: [{ span, text: code }] }
      : undefined;
  }
  if (listed.code !== undefined || listed.label === undefined) return undefined;
  const { source, span } = places.place([position, 'label']);
  const key: Place = places.keyPlace([position, 'label']);
  if (key.source !== source || source.text.slice(key.span.start, key.span.end) !== 'label') return undefined;
  const at = { start: span.end, end: span.end };
  if (/^[ \t]*[,}]/.test(source.text.slice(span.end)))
    return { grade: 'likely', source, edits: [{ span: at, text: `, code: ${code}` }] };
  const indent = source.text.slice(source.text.lastIndexOf('\n', key.span.start - 1) + 1, key.span.start);
  const lineEnd = /\r?\n|$/.exec(source.text.slice(span.end));
  if (!/^ *$/.test(indent) || lineEnd === null) return undefined;
  const end = span.end + lineEnd.index;
  return { grade: 'likely', source, edits: [{ span: { start: end, end }, text: `\n${indent}code: ${code}` }] };
}

/** Two controls with one label: `one-label-two-controls`. */
export function sharedLabels(controls: ReadonlyMap<Position, DeviceControl>): readonly Finding[] {
  const first = new Map<string, DeviceControl>();
  const findings: Finding[] = [];
  for (const control of controls.values()) {
    if (control.label === undefined) continue;
    const other = first.get(control.label);
    if (other === undefined) {
      first.set(control.label, control);
      continue;
    }
    findings.push(
      makeFinding('one-label-two-controls', {
        place: control.place,
        related: [{ place: other.place, note: 'the same label' }],
        detail: `${other.position} and ${control.position} are both labelled ${JSON.stringify(control.label)}, so that the label names neither.`,
        wayOut: 'Correct one of the labels; if both are really printed so, name these controls by position.',
      }),
    );
  }
  return findings;
}
