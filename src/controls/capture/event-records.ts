import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { InputEvent } from './capture.ts';
import type { CaptureLine, CaptureSection } from './sections.ts';

export const eventTypes = { syn: 0, key: 1, axis: 3, switch: 5 } as const;

/**
 * The events of one input. A record is `struct input_event` of linux/input.h: seconds and microseconds as two longs, then
 * type, code (16 bits each) and value (32 bits, signed): 24 bytes for a 64-bit process, 16 for a 32-bit one.
 */
export function readEvents(
  section: CaptureSection,
  event: string,
  wordSize: 32 | 64,
  bigEndian: boolean,
  findings: Finding[],
): readonly InputEvent[] {
  const bytes: number[] = [];
  const lineOf: CaptureLine[] = [];
  for (const line of section.lines) {
    const digits = line.text.replace(/\s+/g, '');
    if (!/^[0-9a-fA-F]*$/.test(digits) || digits.length % 2 === 1) {
      findings.push(
        makeFinding('capture-events-cut', {
          place: line.place,
          detail: `Line ${line.at} holds ${digits.length % 2 === 1 ? 'half a byte' : 'something that is not hexadecimal'}; what follows it of ${event} is not used.`,
          wayOut: 'Run the press test again, or take the damaged line and those after it out of the capture.',
        }),
      );
      break;
    }
    for (let k = 0; k < digits.length; k += 2) {
      bytes.push(Number.parseInt(digits.slice(k, k + 2), 16));
      lineOf.push(line);
    }
  }
  const size = wordSize === 64 ? 24 : 16;
  const view = new DataView(Uint8Array.from(bytes).buffer);
  const events: InputEvent[] = [];
  for (let start = 0; start + size <= bytes.length; start += size) {
    const at =
      wordSize === 64
        ? Number(view.getBigInt64(start, !bigEndian)) * 1000 + Number(view.getBigInt64(start + 8, !bigEndian)) / 1000
        : view.getInt32(start, !bigEndian) * 1000 + view.getInt32(start + 4, !bigEndian) / 1000;
    const rest = start + size - 8;
    const type = view.getUint16(rest, !bigEndian);
    const line = lineOf[start];
    if (line === undefined) break;
    if (type > 0x1f) {
      findings.push(
        makeFinding('capture-events-cut', {
          place: line.place,
          detail: `Line ${line.at}: no event of ${size} bytes has the type ${type}, so that the bytes of ${event} are cut, or their records have ${size === 24 ? 16 : 24} bytes.`,
          wayOut: `Check word-size: (${wordSize} now: it is that of the program that read the bytes), or run the press test again.`,
        }),
      );
      return events;
    }
    events.push({
      event,
      at,
      type,
      code: view.getUint16(rest + 2, !bigEndian),
      value: view.getInt32(rest + 4, !bigEndian),
      line: line.at,
    });
  }
  const over = bytes.length % size;
  const last = lineOf.at(-1);
  if (over > 0 && last !== undefined) {
    findings.push(
      makeFinding('capture-events-cut', {
        place: last.place,
        detail: `The bytes of ${event} end ${over} bytes into a record of ${size} (line ${last.at}); that last record is left out.`,
        wayOut: 'If the last control is missing below, run the press test again; else nothing needs doing.',
      }),
    );
  }
  return events;
}
