import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { AxisFacts, ControlSource, DeviceControl, DeviceControls, DeviceInput } from '../model/device.ts';
import type { Place } from '../text/place.ts';
import { isPosition, positions } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { DeviceControlsWritten, ListedControlWritten } from '../vocabulary/shapes/profile.ts';
import { codeNames, eventCode } from './event-codes.ts';
import { positionCodes } from './position-codes.ts';

/** Where things stand, by the path from `device.controls`. */
export interface ControlPlaces {
  place(path: readonly (string | number)[]): Place;
  keyPlace(path: readonly (string | number)[]): Place;
}

/** `NAME`, `NAME+`, `input/NAME-`, taken apart. */
function splitCode(text: string): { readonly input: string | undefined; readonly name: string; readonly side: '+' | '-' | undefined } {
  const match = /^(?:([^/]+)\/)?([A-Z0-9_]+?)([+-])?$/.exec(text);
  return { input: match?.[1], name: match?.[2] ?? text, side: match?.[3] === '+' || match?.[3] === '-' ? match[3] : undefined };
}

/** Where a source is, so that two controls with one source are seen. */
export function sourceKey(source: ControlSource): string {
  return source.kind === 'key' ? `${source.input}/k${source.number}` : `${source.input}/a${source.number}${source.side}`;
}

/**
 * The controls of a device, as a profile writes them: `codes:` is all that each input can send, a listed control has
 * the code written or the one of its position. Errors: `unknown-event-code`, `unknown-position`, `code-not-sent`,
 * `one-code-two-controls`, `one-label-two-controls`. `inputs` given: those of a capture.
 */
export function readControls(written: DeviceControlsWritten, places: ControlPlaces, captured?: readonly DeviceInput[]): Outcome<DeviceControls> {
  const findings: Finding[] = [];
  const inputs = captured ?? readInputs(written, places, findings);
  const complete = captured !== undefined || written.codes !== undefined;
  const controls = new Map<Position, DeviceControl>();

  for (const [name, entry] of Object.entries(written)) {
    if (name === 'capture' || name === 'codes' || !isListed(entry)) continue;
    if (!isPosition(name)) {
      const near = nearestNames(name, positions);
      const place = places.keyPlace([name]);
      const [best] = near;
      findings.push(
        makeFinding('unknown-position', {
          place,
          detail: `No position is called ${JSON.stringify(name)}.`,
          wayOut: best === undefined ? `Write one of ${positions.slice(0, 24).join(', ')}, extra-1, ….` : `Write ${near.join(' or ')}.`,
          ...(best === undefined || place.source.text.slice(place.span.start, place.span.end) !== name
            ? {}
            : { mend: { grade: near.length === 1 && !(best in written) ? 'certain' : 'likely', source: place.source, edits: [{ span: place.span, text: best }] } }),
        }),
      );
      continue;
    }
    const listed = entry.code === undefined ? [] : typeof entry.code === 'string' ? [entry.code] : entry.code;
    const sources = listed.flatMap((text, index) => {
      const place = places.place(typeof entry.code === 'string' ? [name, 'code'] : [name, 'code', index]);
      return readSource(text, name, inputs, complete, place, findings) ?? [];
    });
    controls.set(name, {
      position: name,
      ...(entry.label === undefined || entry.label === null ? {} : { label: entry.label }),
      sources: listed.length > 0 ? sources : sourcesOf(name, inputs, complete),
      place: places.keyPlace([name]),
    });
  }
  findings.push(...sharedCodes(controls));
  addUnlisted(controls, inputs, places);
  findings.push(...sharedLabels(controls));
  return { value: { inputs, complete, controls }, findings };
}

function isListed(entry: DeviceControlsWritten[string]): entry is ListedControlWritten {
  return typeof entry === 'object' && entry !== null && !Array.isArray(entry);
}

function unknownCode(text: string, place: Place): Finding {
  const near = nearestNames(text, codeNames);
  return makeFinding('unknown-event-code', {
    place,
    detail: `The kernel has no event code called ${JSON.stringify(text)}.`,
    wayOut: near.length > 0 ? `Write ${near.join(' or ')}.` : 'Write a name such as BTN_SOUTH, as the kernel lists it.',
    ...(near[0] !== undefined && near.length === 1 && place.source.text.slice(place.span.start, place.span.end) === text
      ? { mend: { grade: 'likely', source: place.source, edits: [{ span: place.span, text: near[0] }] } }
      : {}),
  });
}

function readInputs(written: DeviceControlsWritten, places: ControlPlaces, findings: Finding[]): readonly DeviceInput[] {
  return Object.entries(written.codes ?? {}).map(([name, codes]) => {
    const keys = new Map<number, { readonly code: string; readonly number: number }>();
    const axes = new Map<number, AxisFacts>();
    codes.forEach((text, index) => {
      const code = eventCode(splitCode(text).name);
      if (code === undefined) findings.push(unknownCode(text, places.place(['codes', name, index])));
      else if (code.kind === 'key' || code.kind === 'switch') {
        // A switch is kept with the keys under a number of its own kind, so that it never takes a button's place.
        if (code.kind === 'key') keys.set(code.number, { code: code.name, number: code.number });
      } else axes.set(code.number, { code: code.name, number: code.number });
    });
    const byNumber = (a: { readonly number: number }, b: { readonly number: number }): number => a.number - b.number;
    return { name, keys: [...keys.values()].sort(byNumber), axes: [...axes.values()].sort(byNumber) };
  });
}

function findInput(inputs: readonly DeviceInput[], kind: 'key' | 'axis', number: number, wanted: string | undefined): DeviceInput | undefined {
  return inputs.find((input) => (wanted === undefined || input.name === wanted) && (kind === 'key' ? input.keys : input.axes).some((code) => code.number === number));
}

/** A code as written under a control. */
function readSource(text: string, position: Position, inputs: readonly DeviceInput[], complete: boolean, place: Place, findings: Finding[]): ControlSource | undefined {
  const { input: wanted, name, side } = splitCode(text);
  const code = eventCode(name);
  if (code === undefined) {
    findings.push(unknownCode(text, place));
    return undefined;
  }
  if (code.kind === 'switch') return undefined;
  const input = findInput(inputs, code.kind, code.number, wanted);
  if (complete && input === undefined) {
    findings.push(
      makeFinding('code-not-sent', {
        place,
        detail: `${name} stands under ${position}, but ${wanted === undefined ? 'no input' : `the input ${wanted}`} of this device can send it.`,
        wayOut: `Add ${name} to codes:, or correct the code.`,
      }),
    );
    return undefined;
  }
  const from = input?.name ?? wanted ?? 'pad';
  if (code.kind === 'key') return { kind: 'key', input: from, code: code.name, number: code.number };
  return { kind: 'axis', input: from, code: code.name, number: code.number, side: side ?? '+' };
}

/** What a control at a position sends by convention: the first of its codes that an input has. */
function sourcesOf(position: Position, inputs: readonly DeviceInput[], complete: boolean): readonly ControlSource[] {
  for (const text of positionCodes[position]) {
    const { name, side } = splitCode(text);
    const code = eventCode(name);
    if (code === undefined || code.kind === 'switch') continue;
    const input = findInput(inputs, code.kind, code.number, undefined);
    if (complete && input === undefined) continue;
    const from = input?.name ?? 'pad';
    return [code.kind === 'key' ? { kind: 'key', input: from, code: code.name, number: code.number } : { kind: 'axis', input: from, code: code.name, number: code.number, side: side ?? '+' }];
  }
  return [];
}

/** Codes that have a position by convention and that no listed control claims: controls without a label. */
function addUnlisted(controls: Map<Position, DeviceControl>, inputs: readonly DeviceInput[], places: ControlPlaces): void {
  const claimed = new Set([...controls.values()].flatMap((control) => control.sources.map(sourceKey)));
  for (const position of positions) {
    if (controls.has(position) || inputs.length === 0) continue;
    const sources = sourcesOf(position, inputs, true).filter((source) => !claimed.has(sourceKey(source)));
    if (sources.length > 0) controls.set(position, { position, sources, place: places.keyPlace(['codes']) });
  }
}

function sharedCodes(controls: ReadonlyMap<Position, DeviceControl>): readonly Finding[] {
  const first = new Map<string, DeviceControl>();
  const findings: Finding[] = [];
  for (const control of controls.values()) {
    for (const source of control.sources) {
      const key = sourceKey(source);
      const other = first.get(key);
      if (other === undefined) {
        first.set(key, control);
        continue;
      }
      const own = positionCodes[other.position][0] ?? '';
      const crossed = source.code === positionCodes[control.position][0];
      findings.push(
        makeFinding('one-code-two-controls', {
          place: control.place,
          related: [{ place: other.place, note: `${source.code} is also what this sends` }],
          detail: `${other.position} and ${control.position} would both send ${source.code}.`,
          wayOut: crossed && own !== '' ? `If the two are wired crosswise, write code: ${own} under ${control.position}; else correct one of them.` : 'Write under one of them the code that it really sends.',
        }),
      );
    }
  }
  return findings;
}

function sharedLabels(controls: ReadonlyMap<Position, DeviceControl>): readonly Finding[] {
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
