import { encodeBitmap } from '../../../src/controls/capture/bitmap.ts';

export interface FakeInput {
  readonly event: string;
  readonly name?: string;
  readonly virtual?: boolean;
  /** Of its properties, in hexadecimal. */
  readonly prop?: string;
  readonly keys?: readonly number[];
  readonly axes?: readonly number[];
  readonly switches?: readonly number[];
}

/** The text of /proc/bus/input/devices for inputs, as drivers/input/input.c prints it. */
export function procList(inputs: readonly FakeInput[], wordSize: 32 | 64): string {
  return inputs
    .map(({ event, name, virtual, prop, keys, axes, switches }) =>
      [
        'I: Bus=0019 Vendor=0001 Product=0002 Version=0100',
        `N: Name="${name ?? `Example ${event}`}"`,
        'P: Phys=',
        `S: Sysfs=/devices/${virtual === true ? 'virtual' : 'platform'}/input/${event}`,
        'U: Uniq=',
        `H: Handlers=${event} `,
        `B: PROP=${prop ?? '0'}`,
        'B: EV=b',
        ...(keys === undefined ? [] : [`B: KEY=${encodeBitmap(keys, wordSize)}`]),
        ...(axes === undefined ? [] : [`B: ABS=${encodeBitmap(axes, wordSize)}`]),
        ...(switches === undefined ? [] : [`B: SW=${encodeBitmap(switches, wordSize)}`]),
        '',
      ].join('\n'),
    )
    .join('\n');
}

/** Records events as the kernel would: `struct input_event` of linux/input.h, little-endian. Times in milliseconds. */
export class PressRecorder {
  private now = 1_700_000_000_000;
  private readonly bytes = new Map<string, number[]>();
  private readonly wordSize: 32 | 64;

  constructor(wordSize: 32 | 64) {
    this.wordSize = wordSize;
  }

  wait(ms: number): this {
    this.now += ms;
    return this;
  }

  send(event: string, type: number, code: number, value: number): this {
    const record = Buffer.alloc(this.wordSize === 64 ? 24 : 16);
    const seconds = Math.floor(this.now / 1000);
    const micros = (this.now % 1000) * 1000;
    if (this.wordSize === 64) {
      record.writeBigInt64LE(BigInt(seconds), 0);
      record.writeBigInt64LE(BigInt(micros), 8);
    } else {
      record.writeInt32LE(seconds, 0);
      record.writeInt32LE(micros, 4);
    }
    const at = record.length - 8;
    record.writeUInt16LE(type, at);
    record.writeUInt16LE(code, at + 2);
    record.writeInt32LE(value, at + 4);
    const known = this.bytes.get(event) ?? [];
    known.push(...record);
    this.bytes.set(event, known);
    return this;
  }

  /** A key down, perhaps bouncing and repeating, and up again. */
  key(
    event: string,
    code: number,
    { bounces = 0, repeats = 0 }: { readonly bounces?: number; readonly repeats?: number } = {},
  ): this {
    for (let k = 0; k < bounces; k++) this.send(event, 1, code, 1).wait(8).send(event, 1, code, 0).wait(8);
    this.send(event, 1, code, 1).send(event, 0, 0, 0).wait(200);
    for (let k = 0; k < repeats; k++) this.send(event, 1, code, 2).wait(33);
    return this.send(event, 1, code, 0).send(event, 0, 0, 0).wait(600);
  }

  /** An axis to `to` in steps and back to `rest`. */
  axis(event: string, code: number, rest: number, to: number): this {
    for (const part of [0.3, 0.7, 1]) this.send(event, 3, code, Math.round(rest + (to - rest) * part)).wait(20);
    this.wait(150);
    for (const part of [0.6, 0.1, 0]) this.send(event, 3, code, Math.round(rest + (to - rest) * part)).wait(20);
    return this.wait(500);
  }

  hat(event: string, code: number, to: -1 | 1): this {
    return this.send(event, 3, code, to).wait(150).send(event, 3, code, 0).wait(500);
  }

  events(): ReadonlyMap<string, Uint8Array> {
    return new Map([...this.bytes].map(([event, bytes]) => [event, Uint8Array.from(bytes)]));
  }
}
