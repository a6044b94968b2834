import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { AxisFacts, ControlSource, DeviceControl, DeviceControls, DeviceInput } from '../model/device.ts';
import type { Place } from '../text/place.ts';
import { isPosition, positions } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { DeviceControlsWritten, ListedControlWritten } from '../vocabulary/shapes/profile.ts';
import type { Capture } from './capture/capture.ts';
import {
  conventionalSources,
  findInput,
  makeSource,
  sourceKey,
  spellControlCode,
  splitControlCode,
} from './control-code.ts';
import { codeNames, eventCode } from './event-codes.ts';
import type { EventCode } from './event-codes.ts';
import { positionCodes } from './position-codes.ts';
import { sharedCodes, sharedLabels } from './shared-controls.ts';

/** Where things stand, by the path from `device.controls`. */
export interface ControlPlaces {
  place(path: readonly (string | number)[]): Place;
  keyPlace(path: readonly (string | number)[]): Place;
}

/**
 * The controls of a device, as a profile writes them. `codes:` (or the capture) is all that each input can send. A
 * listed control sends the code that is written; without one, what the press test of the capture showed; without that,
 * the code of its position by the Linux gamepad specification. Codes that have a position and that no listed control
 * sends are controls too. Findings: `unknown-event-code`, `unknown-position`, `code-not-sent`, `control-sends-nothing`,
 * `press-test-disagrees`, `one-code-two-controls`, `one-label-two-controls`.
 */
export function readControls(
  written: DeviceControlsWritten,
  places: ControlPlaces,
  capture?: Capture,
): Outcome<DeviceControls> {
  const findings: Finding[] = [];
  const inputs = capture?.inputs ?? readInputs(written, places, findings);
  const complete = capture !== undefined || written.codes !== undefined;
  const reading: Reading = { inputs, complete, capture, places, findings };
  const controls = new Map<Position, DeviceControl>();
  for (const [name, entry] of Object.entries(written)) {
    if (name === 'capture' || name === 'codes' || !isListed(entry)) continue;
    if (isPosition(name)) controls.set(name, readListed(name, entry, reading));
    else findings.push(unknownPosition(name, written, places.keyPlace([name])));
  }
  findings.push(...sharedCodes(controls, written, places));
  addUnlisted(controls, reading);
  findings.push(...sharedLabels(controls));
  return { value: { inputs, complete, controls }, findings };
}

interface Reading {
  readonly inputs: readonly DeviceInput[];
  readonly complete: boolean;
  readonly capture: Capture | undefined;
  readonly places: ControlPlaces;
  readonly findings: Finding[];
}

function isListed(entry: DeviceControlsWritten[string]): entry is ListedControlWritten {
  return typeof entry === 'object' && entry !== null && !Array.isArray(entry);
}

function readListed(position: Position, entry: ListedControlWritten, reading: Reading): DeviceControl {
  const { places, findings, inputs, complete, capture } = reading;
  const place = places.keyPlace([position]);
  const codes = entry.code === undefined ? [] : typeof entry.code === 'string' ? [entry.code] : entry.code;
  const sources: ControlSource[] = [];
  codes.forEach((text, index) => {
    const at = places.place(typeof entry.code === 'string' ? [position, 'code'] : [position, 'code', index]);
    const source = readCode(text, position, at, reading);
    if (source !== undefined) sources.push(source);
  });
  const pressed = capture?.pressed.get(position);
  if (codes.length === 0) {
    sources.push(...(pressed ?? conventionalSources(position, inputs, complete)));
    if (complete && sources.length === 0) findings.push(sendsNothing(position, place));
  } else if (
    pressed !== undefined &&
    sources.length > 0 &&
    !pressed.some((one) => sources.some((source) => sourceKey(source) === sourceKey(one)))
  ) {
    findings.push(disagrees(position, sources, pressed, inputs, places.place([position, 'code'])));
  }
  return { position, ...(entry.label == null ? {} : { label: entry.label }), sources, place };
}

/** Codes that have a position, shown by the press test or by convention, and that no listed control sends. */
function addUnlisted(controls: Map<Position, DeviceControl>, { inputs, capture, places }: Reading): void {
  const place = places.keyPlace([capture === undefined ? 'codes' : 'capture']);
  const claimed = new Set([...controls.values()].flatMap((control) => control.sources.map(sourceKey)));
  const add = (position: Position, sources: readonly ControlSource[]): void => {
    const free = sources.filter((source) => !claimed.has(sourceKey(source)));
    if (free.length === 0 || controls.has(position)) return;
    for (const source of free) claimed.add(sourceKey(source));
    controls.set(position, { position, sources: free, place });
  };
  for (const position of positions) add(position, capture?.pressed.get(position) ?? []);
  if (inputs.length > 0) for (const position of positions) add(position, conventionalSources(position, inputs, true));
}

function readInputs(
  written: DeviceControlsWritten,
  places: ControlPlaces,
  findings: Finding[],
): readonly DeviceInput[] {
  return Object.entries(written.codes ?? {}).map(([name, codes]) => {
    const keys = new Map<number, EventCode>();
    const axes = new Map<number, AxisFacts>();
    const switches = new Map<number, EventCode>();
    codes.forEach((text, index) => {
      const code = eventCode(splitControlCode(text).name);
      if (code === undefined) findings.push(unknownCode(text, places.place(['codes', name, index])));
      else if (code.kind === 'axis') axes.set(code.number, { code: code.name, number: code.number });
      else (code.kind === 'key' ? keys : switches).set(code.number, code);
    });
    const plain = (found: ReadonlyMap<number, EventCode>): readonly { code: string; number: number }[] =>
      [...found.values()].map((code) => ({ code: code.name, number: code.number })).sort(byNumber);
    return {
      name,
      keys: plain(keys),
      axes: [...axes.values()].sort(byNumber),
      ...(switches.size === 0 ? {} : { switches: plain(switches) }),
    };
  });
}

function byNumber(a: { readonly number: number }, b: { readonly number: number }): number {
  return a.number - b.number;
}

/** A code as written under a control. */
function readCode(
  text: string,
  position: Position,
  place: Place,
  { inputs, complete, capture, findings }: Reading,
): ControlSource | undefined {
  const { input: wanted, name, side } = splitControlCode(text);
  const code = eventCode(name);
  if (code === undefined) {
    findings.push(unknownCode(text, place));
    return undefined;
  }
  const input = findInput(inputs, code.kind, code.number, wanted);
  if (!complete || input !== undefined) return makeSource(code, input?.name ?? wanted ?? 'pad', side);
  const elsewhere = findInput(inputs, code.kind, code.number);
  const known = inputs.map((one) => one.name);
  findings.push(
    makeFinding('code-not-sent', {
      place,
      detail: `${name} stands under ${position}, but ${wanted === undefined ? 'no input of this device' : known.includes(wanted) ? `the input ${wanted}` : `no input called ${JSON.stringify(wanted)}`} can send it.`,
      wayOut:
        elsewhere === undefined
          ? capture === undefined
            ? `Correct the code; if the control does send ${name}, add it to the codes of its input.`
            : `Correct the code, or take it away, so that the press test decides; if the control does send ${name}, take the capture anew.`
          : `Write ${elsewhere.name}/${name}${side ?? ''}, since the input ${elsewhere.name} can send it.`,
    }),
  );
  return undefined;
}

function unknownCode(text: string, place: Place): Finding {
  const { name } = splitControlCode(text);
  const near = nearestNames(name, codeNames);
  const [best] = near;
  const at = place.source.text.slice(place.span.start, place.span.end).indexOf(name);
  const start = place.span.start + at;
  return makeFinding('unknown-event-code', {
    place,
    detail: `The kernel has no event code called ${JSON.stringify(name)}.`,
    wayOut:
      best === undefined
        ? 'Write a name such as BTN_SOUTH, ABS_HAT0X- or KEY_POWER, as the kernel header lists it.'
        : `Write ${near.join(' or ')}.`,
    ...(best !== undefined && near.length === 1 && at >= 0
      ? {
          mend: {
            grade: 'likely',
            source: place.source,
            edits: [{ span: { start, end: start + name.length }, text: best }],
          },
        }
      : {}),
  });
}

function unknownPosition(name: string, written: DeviceControlsWritten, place: Place): Finding {
  const near = nearestNames(name, positions);
  const [best] = near;
  const plain = place.source.text.slice(place.span.start, place.span.end) === name;
  return makeFinding('unknown-position', {
    place,
    detail: `No position is called ${JSON.stringify(name)}.`,
    wayOut:
      best === undefined
        ? `Write one of ${positions.slice(0, 24).join(', ')}, extra-1, ….`
        : `Write ${near.join(' or ')}.`,
    ...(best !== undefined && plain
      ? {
          mend: {
            grade: near.length === 1 && !(best in written) ? 'certain' : 'likely',
            source: place.source,
            edits: [{ span: place.span, text: best }],
          },
        }
      : {}),
  });
}

function sendsNothing(position: Position, place: Place): Finding {
  const usual = positionCodes[position];
  return makeFinding('control-sends-nothing', {
    place,
    detail: `${position} is listed, but no input of this device can send ${usual.length === 0 ? 'a code that is known for it' : usual.join(' or ')}, and no code is written.`,
    wayOut: 'Write under it the code: that it sends, or take it out of the list.',
  });
}

function disagrees(
  position: Position,
  sources: readonly ControlSource[],
  pressed: readonly ControlSource[],
  inputs: readonly DeviceInput[],
  place: Place,
): Finding {
  const spell = (some: readonly ControlSource[]): string =>
    some.map((source) => spellControlCode(source, inputs)).join(' and ');
  return makeFinding('press-test-disagrees', {
    place,
    detail: `The profile says that ${position} sends ${spell(sources)}; in the press test it sent ${spell(pressed)}.`,
    wayOut: `Take the code: away, so that the press test decides; if a wrong control was pressed, run the press test again.`,
  });
}
