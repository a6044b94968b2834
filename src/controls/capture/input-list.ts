import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { bitmapBits, decodeBitmap } from './bitmap.ts';
import type { KernelInput } from './capture.ts';
import type { CaptureLine } from './sections.ts';

/**
 * The word size that the list itself shows: a word above ffffffff is of 64 bits, more words than 64 bits can need are of
 * 32. Undefined: it shows nothing, both readings are possible.
 */
export function inferWordSize(lines: readonly CaptureLine[]): 32 | 64 | undefined {
  for (const { text } of lines) {
    const [, name, words = ''] = /^B: (KEY|ABS|SW)=(.*)$/.exec(text) ?? [];
    const parts = words.trim().split(/\s+/);
    if (parts.some((word) => /^[0-9a-f]{9,16}$/.test(word))) return 64;
    if (name === 'KEY' && parts.length > bitmapBits.KEY / 64) return 32;
    if (name === 'ABS' && parts.length > 1) return 32;
  }
  return undefined;
}

/** The blocks of /proc/bus/input/devices (drivers/input/input.c, Linux 6.1.192, lines 1166-1235). */
export function readInputList(
  lines: readonly CaptureLine[],
  wordSize: 32 | 64,
  findings: Finding[],
): readonly KernelInput[] {
  const inputs: KernelInput[] = [];
  let block: CaptureLine[] = [];
  for (const line of [...lines, undefined]) {
    // A block ends at an empty line; one that was lost in pasting shows by the next `I:`.
    if (line === undefined || line.text === '' || line.text.startsWith('I: ')) {
      const read = readBlock(block, wordSize, findings);
      if (read !== undefined) inputs.push(read);
      block = [];
    }
    if (line !== undefined && line.text !== '') block.push(line);
  }
  return inputs;
}

function readBlock(block: readonly CaptureLine[], wordSize: 32 | 64, findings: Finding[]): KernelInput | undefined {
  const [first] = block;
  if (first === undefined) return undefined;
  const ids = /^I: Bus=([0-9a-f]{4}) Vendor=([0-9a-f]{4}) Product=([0-9a-f]{4}) Version=([0-9a-f]{4})$/.exec(
    first.text,
  );
  const unread = block.find((line, index) => (index > 0 || ids === null) && !/^[NPSUHB]: /.test(line.text.padEnd(3)));
  if (ids === null || unread !== undefined) {
    findings.push(
      makeFinding('capture-line-unreadable', {
        place: (unread ?? first).place,
        detail: `Line ${(unread ?? first).at} is not one that the kernel writes in its list of inputs; each block starts with I: Bus=… and has N:, P:, S:, U:, H: and B: lines.`,
        wayOut: 'Paste the text of /proc/bus/input/devices anew, whole and unchanged.',
      }),
    );
    if (ids === null) return undefined;
  }
  const valueOf = (start: string): string | undefined =>
    block.find((line) => line.text.startsWith(start))?.text.slice(start.length);
  const codesOf = (name: keyof typeof bitmapBits): readonly number[] => {
    const line = block.find(({ text }) => text.startsWith(`B: ${name}=`));
    if (line === undefined) return [];
    const read = decodeBitmap(line.text.slice(4 + name.length), wordSize, bitmapBits[name]);
    if (read.kind === 'codes') return read.codes.filter((code) => code < bitmapBits[name]);
    findings.push(
      makeFinding('capture-bitmap-unreadable', {
        place: line.place,
        detail: `Line ${line.at}, the ${name} bitmap: ${read.why}.`,
        wayOut: read.wayOut,
      }),
    );
    return [];
  };
  const hex = (index: number): number => Number.parseInt(ids[index] ?? '0', 16);
  const name = valueOf('N: Name=') ?? '';
  return {
    identity: {
      bus: hex(1),
      vendor: hex(2),
      product: hex(3),
      version: hex(4),
      name: name.startsWith('"') && name.endsWith('"') && name.length > 1 ? name.slice(1, -1) : name,
    },
    event: /(?:^|\s)(event\d+)(?:\s|$)/.exec(valueOf('H: Handlers=') ?? '')?.[1],
    // Bit 6 of the properties (linux/input-event-codes.h); there is one word.
    tilt: (Number.parseInt(valueOf('B: PROP=') ?? '0', 16) & 0x40) !== 0,
    virtual: valueOf('S: Sysfs=')?.startsWith('/devices/virtual/') ?? false,
    keys: codesOf('KEY'),
    axes: codesOf('ABS'),
    switches: codesOf('SW'),
    line: first.at,
  };
}
