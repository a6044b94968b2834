import type { DeviceControls, InputIdentity, Numbered } from '../model/device.ts';
import type { Position } from '../vocabulary/positions.ts';
import { numberControl } from './number-control.ts';
import { sdlGuid, withoutCrc } from './sdl-guid.ts';
import type { MappingField, MappingLine, MappingSource } from './sdl-mapping.ts';

/** SDL's output for each position: by place, never by a code's alias (its own automatic x and y go by alias). */
const buttonOutputs: readonly (readonly [string, Position])[] = [
  ['a', 'south'],
  ['b', 'east'],
  ['x', 'west'],
  ['y', 'north'],
  ['back', 'select'],
  ['guide', 'mode'],
  ['start', 'start'],
  ['leftstick', 'thumb-left'],
  ['rightstick', 'thumb-right'],
  ['leftshoulder', 'shoulder-left'],
  ['rightshoulder', 'shoulder-right'],
  ['dpup', 'dpad-up'],
  ['dpdown', 'dpad-down'],
  ['dpleft', 'dpad-left'],
  ['dpright', 'dpad-right'],
];

const stickOutputs: readonly (readonly [string, Position, Position])[] = [
  ['leftx', 'stick-left-left', 'stick-left-right'],
  ['lefty', 'stick-left-up', 'stick-left-down'],
  ['rightx', 'stick-right-left', 'stick-right-right'],
  ['righty', 'stick-right-up', 'stick-right-down'],
];

const triggerOutputs: readonly (readonly [string, Position])[] = [
  ['lefttrigger', 'trigger-left'],
  ['righttrigger', 'trigger-right'],
];

const hatMasks = { up: 1, right: 2, down: 4, left: 8 } as const;

interface Left {
  readonly position: Position;
  readonly why: string;
  /** It has a number, but what is known leaves open which. */
  readonly undecided: boolean;
}

export interface MadeMapping {
  readonly line: MappingLine;
  /** Controls that the line could not say, each with a clause that tells why. */
  readonly left: readonly Left[];
}

/** What the mapping line is made for: the input, and the SDL release that reads it. */
export interface MappingTarget {
  readonly input: string;
  readonly identity: InputIdentity;
  readonly version: string;
  readonly udev: boolean;
}

/**
 * The SDL mapping line of a device's game pad. Its GUID carries no CRC, so that every release knows the device by it.
 * Positions that SDL has no output for (volume, power, lid, extra) are not in it.
 */
export function makeMapping(controls: DeviceControls, { input, identity, version, udev }: MappingTarget): MadeMapping {
  const left: Left[] = [];
  const own: DeviceControls = { ...controls, inputs: controls.inputs.filter(({ name }) => name === input) };
  const formsOf = (position: Position): readonly Numbered[] => {
    const control = controls.controls.get(position);
    if (control === undefined) return [];
    const sources = control.sources.filter((source) => source.input === input);
    const found = numberControl({ ...control, sources }, own, { order: 'sdl', version, udev });
    if (found.numbered.length === 0)
      left.push({
        position,
        why: sources.length === 0 ? `it is not on the input ${input}` : (found.problem ?? 'it has no number'),
        undecided: found.undecided === true,
      });
    return found.numbered;
  };
  const fields: MappingField[] = [];
  const bind = (output: string, half: '+' | '-' | undefined, source: MappingSource | undefined): void => {
    if (source !== undefined) fields.push({ kind: 'binding', output, half, source });
  };
  for (const [output, position] of buttonOutputs)
    bind(output, undefined, sourceOf(best(formsOf(position), ['button', 'hat', 'axis'])));
  for (const [output, low, high] of stickOutputs) {
    const forms = [
      best(formsOf(low), ['axis', 'hat', 'button']),
      best(formsOf(high), ['axis', 'hat', 'button']),
    ] as const;
    const [a, b] = forms;
    if (a?.form === 'axis' && b?.form === 'axis' && a.axis === b.axis && a.side !== b.side) {
      bind(output, undefined, { kind: 'axis', axis: a.axis, half: undefined, inverted: a.side === '+' });
    } else {
      bind(output, '-', sourceOf(a));
      bind(output, '+', sourceOf(b));
    }
  }
  for (const [output, position] of triggerOutputs) {
    const form = best(formsOf(position), ['axis', 'button', 'hat']);
    bind(
      output,
      undefined,
      form?.form === 'axis' && restsAtEnd(form, own)
        ? { kind: 'axis', axis: form.axis, half: undefined, inverted: form.side === '-' }
        : sourceOf(form),
    );
  }
  fields.push({ kind: 'other', text: 'platform:Linux' });
  const name = identity.name.replace(/[,\r\n]/g, ' ').trim() || 'pad';
  return { line: { guid: withoutCrc(sdlGuid(identity, version)), name, fields, closed: true }, left };
}

function best(forms: readonly Numbered[], order: readonly Numbered['form'][]): Numbered | undefined {
  return order.flatMap((form) => forms.filter((one) => one.form === form))[0];
}

/** Half an axis, a hat's direction or a button. */
function sourceOf(form: Numbered | undefined): MappingSource | undefined {
  switch (form?.form) {
    case 'button':
      return { kind: 'button', button: form.index };
    case 'axis':
      return { kind: 'axis', axis: form.axis, half: form.side, inverted: false };
    case 'hat':
      return { kind: 'hat', hat: form.hat, mask: hatMasks[form.direction] };
    default:
      return undefined;
  }
}

/** A trigger's axis starts at one end (kernel text: values start at 0); one that rests in the middle is half a stick. */
function restsAtEnd(form: Extract<Numbered, { form: 'axis' }>, controls: DeviceControls): boolean {
  const axis = controls.inputs[0]?.axes.find(({ number }) => number === form.source?.number);
  return axis?.minimum === undefined || axis.minimum >= 0;
}
