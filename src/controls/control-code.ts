import type { ControlSource, DeviceInput } from '../model/device.ts';
import type { Position } from '../vocabulary/positions.ts';
import { eventCode } from './event-codes.ts';
import type { CodeKind, EventCode } from './event-codes.ts';
import { positionCodes } from './position-codes.ts';

/** What a profile writes under `code:`, taken apart: `[input/]NAME[+|-]`. */
export interface ControlCode {
  readonly input: string | undefined;
  readonly name: string;
  readonly side: '+' | '-' | undefined;
}

/** Takes a code apart. Whatever does not have the form is all name, which then is unknown. */
export function splitControlCode(text: string): ControlCode {
  const match = /^(?:([^/]+)\/)?([A-Z0-9_]+)([+-])?$/.exec(text);
  const side = match?.[3];
  return { input: match?.[1], name: match?.[2] ?? text, side: side === '+' || side === '-' ? side : undefined };
}

/** The way a profile writes a source; the input only where there are several. */
export function spellControlCode(source: ControlSource, inputs: readonly DeviceInput[]): string {
  const side = source.kind === 'axis' ? source.side : '';
  return `${inputs.length > 1 ? `${source.input}/` : ''}${source.code}${side}`;
}

/** One text for one thing that a device sends: two sources are the same thing when their keys are equal. */
export function sourceKey(source: ControlSource): string {
  return `${source.input}/${source.kind}/${source.number}${source.kind === 'axis' ? source.side : ''}`;
}

export function makeSource(code: EventCode, input: string, side: '+' | '-' | undefined): ControlSource {
  const { kind, name, number } = code;
  return kind === 'axis' ? { kind, input, code: name, number, side: side ?? '+' } : { kind, input, code: name, number };
}

/** The first input that can send a code, or the one that is named, if it can. */
export function findInput(
  inputs: readonly DeviceInput[],
  kind: CodeKind,
  number: number,
  named?: string,
): DeviceInput | undefined {
  return inputs.find((input) => {
    if (named !== undefined && input.name !== named) return false;
    const codes = kind === 'key' ? input.keys : kind === 'axis' ? input.axes : (input.switches ?? []);
    return codes.some((code) => code.number === number);
  });
}

/**
 * What a control at a position sends by convention: the first of its codes that an input has. With inputs unknown, the
 * first of its codes, on an input called `pad`.
 */
export function conventionalSources(
  position: Position,
  inputs: readonly DeviceInput[],
  complete: boolean,
): readonly ControlSource[] {
  for (const text of positionCodes[position]) {
    const { name, side } = splitControlCode(text);
    const code = eventCode(name);
    if (code === undefined) continue;
    const input = findInput(inputs, code.kind, code.number);
    if (input !== undefined && (code.kind !== 'axis' || mayBe(position, code.number, input)))
      return [makeSource(code, input.name, side)];
    if (!complete) return [makeSource(code, 'pad', side)];
  }
  return [];
}

/** An axis that rests in the middle is no trigger: Z and RZ are then a second stick (common practice, no source). */
function mayBe(position: Position, number: number, input: DeviceInput): boolean {
  if (!position.startsWith('trigger-')) return true;
  const minimum = input.axes.find((axis) => axis.number === number)?.minimum;
  return minimum === undefined || minimum >= 0;
}
