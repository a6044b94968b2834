import type { Finding, Outcome } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { nearestNames } from '../../diagnostics/nearest.ts';
import type { AxisFacts } from '../../model/device.ts';
import type { Place } from '../../text/place.ts';
import type { SourceText } from '../../text/source-text.ts';
import { isPosition, positions } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { codeName, eventCode } from '../event-codes.ts';
import type { Capture, InputEvent, KernelInput } from './capture.ts';
import { chooseInputs, looksLikePad } from './choose-inputs.ts';
import type { AxisFactsOf, ChosenInput } from './choose-inputs.ts';
import { dropMirrored } from './drop-mirrored.ts';
import { eventTypes, readEvents } from './event-records.ts';
import { inferWordSize, readInputList } from './input-list.ts';
import { placePresses } from './place-presses.ts';
import { findPresses } from './presses.ts';
import { splitCapture } from './sections.ts';
import type { CaptureLine, CaptureSection, CaptureText } from './sections.ts';

/**
 * Reads a capture file (its format: `splitCapture`). Undefined when no controls can be told from it. Findings:
 * `capture-line-unreadable`, `capture-bitmap-unreadable`, `capture-word-size`, `capture-no-pad`, `capture-several-pads`,
 * `capture-other-device`, `capture-events-cut`, `capture-press-again`, `capture-stray-press`, `unknown-position`.
 */
export function readCapture(source: SourceText): Outcome<Capture | undefined> {
  const findings: Finding[] = [];
  const start: Place = { source, span: { start: 0, end: Math.max(0, source.text.indexOf('\n')) } };
  const text = splitCapture(source);
  const head = readHead(text, findings);
  const list = text.sections.find(({ title }) => title === 'inputs');
  if (head === undefined || list === undefined) {
    if (findings.length === 0)
      findings.push(
        unreadable(
          start,
          'A capture starts with capture: 1 and has a section == inputs.',
          'Take the capture.txt that fetch brought, or one that starts so.',
        ),
      );
    return { value: undefined, findings };
  }
  const wordSize = head.wordSize ?? inferWordSize(list.lines);
  if (wordSize === undefined) {
    findings.push(
      makeFinding('capture-word-size', {
        place: list.heading.place,
        detail:
          'The list of inputs does not show whether its words have 64 or 32 bits, and the two readings give different codes.',
        wayOut: 'Write word-size: 64 or word-size: 32 below capture: 1; getconf LONG_BIT on the device prints it.',
      }),
    );
    return { value: undefined, findings };
  }
  const kernel = readInputList(list.lines, wordSize, findings);
  if (findings.some(({ grade }) => grade === 'error')) return { value: undefined, findings };
  const pads = kernel.filter(looksLikePad);
  if (pads.length === 0) {
    findings.push(noPad(list, kernel, wordSize));
    return { value: undefined, findings };
  }
  const factsOf = readFacts(text, kernel, findings);
  const events = text.sections.flatMap((section) =>
    sectionOf(
      section,
      'events',
      kernel,
      (input, event) => known(readEvents(section, event, wordSize, head.bigEndian, findings), input, section, findings),
      findings,
    ),
  );
  const groups = dropMirrored(findPresses(events.toSorted((a, b) => a.at - b.at)), kernel);
  const sent = new Set(groups.flatMap((group) => group.sent.map(({ event }) => event)));
  const chosen = chooseInputs(kernel, ({ event }) => event !== undefined && sent.has(event), factsOf);
  severalPads(chosen, sent.size > 0, list, findings);
  const damaged = groups.length === 0 && findings.length > 0;
  const asked = damaged ? [] : readAsked(text, findings);
  const { pressed, unplaced } = placePresses(asked, groups, chosen, findings);
  return {
    value: {
      inputs: chosen.map(({ input }) => input),
      pressed,
      unplaced,
    },
    findings,
  };
}

function unreadable(place: Place, detail: string, wayOut: string): Finding {
  return makeFinding('capture-line-unreadable', { place, detail, wayOut });
}

function readHead(
  text: CaptureText,
  findings: Finding[],
): { readonly wordSize: 32 | 64 | undefined; readonly bigEndian: boolean } | undefined {
  let wordSize: 32 | 64 | undefined;
  let bigEndian = false;
  let first = false;
  for (const line of text.head) {
    const [, name = '', value = ''] = /^([a-z-]+):\s*(.*)$/.exec(line.text) ?? [];
    if (name === 'capture' && value === '1') first = true;
    else if (name === 'word-size' && (value === '32' || value === '64')) wordSize = value === '32' ? 32 : 64;
    else if (name === 'byte-order' && (value === 'little' || value === 'big')) bigEndian = value === 'big';
    else if (name !== 'taken')
      findings.push(
        unreadable(
          line.place,
          `Line ${line.at} is not understood.`,
          'Write capture: 1, word-size: 64 or 32, byte-order: little or big, or taken: with the day; or take the line out.',
        ),
      );
  }
  for (const section of text.sections) {
    if (/^(inputs|press-test|(axes|events) event\d+)$/.test(section.title)) continue;
    findings.push(
      unreadable(
        section.heading.place,
        `Line ${section.heading.at}: a capture has no section of this name.`,
        'Write == inputs, == press-test, == axes event0 or == events event0.',
      ),
    );
  }
  return first && findings.length === 0 ? { wordSize, bigEndian } : undefined;
}

/** Reads a section that is about one input; none when the list has no such input. */
function sectionOf<T>(
  section: CaptureSection,
  kind: 'axes' | 'events',
  kernel: readonly KernelInput[],
  read: (input: KernelInput, event: string) => readonly T[],
  findings: Finding[],
): readonly T[] {
  const [of, event = ''] = section.title.split(' ');
  if (of !== kind) return [];
  const input = kernel.find((one) => one.event === event);
  if (input !== undefined) return read(input, event);
  findings.push(
    otherDevice(section.heading, `The list of inputs has no ${event}, to which line ${section.heading.at} belongs.`),
  );
  return [];
}

function otherDevice(line: CaptureLine, detail: string): Finding {
  return makeFinding('capture-other-device', {
    place: line.place,
    detail,
    wayOut: 'Take the list and the press test from one run of fetch on one device; do not join two captures.',
  });
}

/** Drops events that the input cannot send, and says so once. */
function known(
  events: readonly InputEvent[],
  input: KernelInput,
  section: CaptureSection,
  findings: Finding[],
): readonly InputEvent[] {
  const has = ({ type, code }: InputEvent): boolean =>
    (type === eventTypes.key
      ? input.keys
      : type === eventTypes.axis
        ? input.axes
        : type === eventTypes.switch
          ? input.switches
          : [code]
    ).includes(code);
  const wrong = events.find((event) => !has(event));
  if (wrong !== undefined) {
    const line = section.lines.find(({ at }) => at === wrong.line) ?? section.heading;
    const kind = wrong.type === eventTypes.key ? 'key' : wrong.type === eventTypes.axis ? 'axis' : 'switch';
    findings.push(
      otherDevice(
        line,
        `Line ${line.at} holds an event of ${codeName(kind, wrong.code)}, which ${input.event ?? 'the input'} cannot send by the list.`,
      ),
    );
  }
  return events.filter(has);
}

function readFacts(text: CaptureText, kernel: readonly KernelInput[], findings: Finding[]): AxisFactsOf {
  const facts = new Map<string, Omit<AxisFacts, 'code' | 'number'>>();
  for (const section of text.sections) {
    sectionOf(
      section,
      'axes',
      kernel,
      (input, event) => {
        for (const line of section.lines) {
          if (line.text === '') continue;
          const [name = '', ...numbers] = line.text.split(/\s+/);
          const code = eventCode(name);
          const [minimum, maximum, fuzz, flat, resolution] = numbers.map((number) =>
            /^-?\d+$/.test(number) ? Number(number) : NaN,
          );
          if (
            code?.kind !== 'axis' ||
            numbers.length !== 5 ||
            [minimum, maximum, fuzz, flat, resolution].some((n) => n === undefined || Number.isNaN(n))
          ) {
            findings.push(
              unreadable(
                line.place,
                `Line ${line.at} does not name an axis and its five numbers.`,
                'Write the axis, then minimum, maximum, fuzz, flat and resolution: ABS_X -1800 1800 32 32 0.',
              ),
            );
          } else if (!input.axes.includes(code.number)) {
            findings.push(
              otherDevice(line, `Line ${line.at} describes ${name}, which ${event} does not have by the list.`),
            );
          } else if (
            minimum !== undefined &&
            maximum !== undefined &&
            fuzz !== undefined &&
            flat !== undefined &&
            resolution !== undefined
          ) {
            facts.set(`${event} ${code.number}`, { minimum, maximum, fuzz, flat, resolution });
          }
        }
        return [];
      },
      findings,
    );
  }
  return ({ event }, number) => facts.get(`${event ?? ''} ${number}`);
}

function readAsked(
  text: CaptureText,
  findings: Finding[],
): readonly { readonly position: Position; readonly line: CaptureLine }[] {
  const lines = text.sections.filter(({ title }) => title === 'press-test').flatMap((section) => section.lines);
  return lines.flatMap((line) => {
    if (line.text === '') return [];
    if (isPosition(line.text)) return [{ position: line.text, line }];
    const near = nearestNames(line.text, positions);
    findings.push(
      makeFinding('unknown-position', {
        place: line.place,
        detail: `No position is called ${JSON.stringify(line.text)} (line ${line.at}).`,
        wayOut:
          near.length > 0 ? `Write ${near.join(' or ')}.` : 'Write one position a line, such as south or dpad-up.',
      }),
    );
    return [];
  });
}

function noPad(list: CaptureSection, kernel: readonly KernelInput[], wordSize: 32 | 64): Finding {
  const other = wordSize === 64 ? 32 : 64;
  const unheard: Finding[] = [];
  const otherwise = readInputList(list.lines, other, unheard);
  const swapped = unheard.length === 0 && otherwise.some(looksLikePad);
  const names = kernel.map(({ identity }) => JSON.stringify(identity.name));
  return makeFinding('capture-no-pad', {
    place: list.heading.place,
    detail: `None of the ${kernel.length} inputs in the list (line ${list.heading.at}) has the buttons or axes of a game pad${names.length === 0 ? '' : `: ${names.slice(0, 5).join(', ')}`}.`,
    wayOut: swapped
      ? `Write word-size: ${other} at the top: with words of ${other} bits there is one.`
      : 'Run fetch on the handheld itself: this list is of another machine.',
  });
}

function severalPads(chosen: readonly ChosenInput[], tested: boolean, list: CaptureSection, findings: Finding[]): void {
  const pads = chosen.filter(({ kernel }) => looksLikePad(kernel));
  if (pads.length < 2 || tested) return;
  findings.push(
    makeFinding('capture-several-pads', {
      place: list.heading.place,
      detail: `Several inputs look like a game pad: ${pads.map(({ kernel, input }) => `${JSON.stringify(kernel.identity.name)} (line ${kernel.line}, called ${input.name})`).join(', ')}. They may be parts of one, or one may have been plugged in.`,
      wayOut:
        'Run the press test, which tells; or take the block of the pad that is not part of the device out of the list.',
    }),
  );
}
