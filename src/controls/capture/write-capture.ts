import { codeName } from '../event-codes.ts';
import { eventTypes } from './event-records.ts';

/** What a device brings, before it is a capture file. */
export interface CapturedParts {
  readonly wordSize: 32 | 64;
  /** Text of /proc/bus/input/devices. */
  readonly list: string;
  /** Positions in the order in which they were to be pressed. */
  readonly asked: readonly string[];
  /** By input (`event3`): the bytes that were read from it. */
  readonly events: ReadonlyMap<string, Uint8Array>;
}

/** The capture file of what a device brought: one event a line, with a comment that says what it is. */
export function writeCapture({ wordSize, list, asked, events }: CapturedParts): string {
  const lines = ['capture: 1', `word-size: ${wordSize}`, '== inputs', list.trimEnd(), ''];
  if (asked.length > 0) lines.push('== press-test', ...asked);
  const size = wordSize === 64 ? 24 : 16;
  for (const [event, bytes] of events) {
    lines.push(`== events ${event}`);
    for (let start = 0; start < bytes.length; start += size) {
      const record = bytes.subarray(start, start + size);
      const hex = Array.from(record, (byte) => byte.toString(16).padStart(2, '0')).join('');
      lines.push(record.length < size ? hex : `${hex}${explain(record)}`);
    }
  }
  return `${lines.join('\n')}\n`;
}

function explain(record: Uint8Array): string {
  const view = new DataView(record.buffer, record.byteOffset, record.byteLength);
  const at = record.length - 8;
  const type = view.getUint16(at, true);
  const code = view.getUint16(at + 2, true);
  const value = view.getInt32(at + 4, true);
  const kind =
    type === eventTypes.key
      ? 'key'
      : type === eventTypes.axis
        ? 'axis'
        : type === eventTypes.switch
          ? 'switch'
          : undefined;
  return kind === undefined ? '' : ` # ${codeName(kind, code)} ${value}`;
}
