import { fingersOf } from '../../controls/chords/fingers.ts';
import { dialectNumbering } from '../../controls/dialect-numbering.ts';
import { numberControl } from '../../controls/number-control.ts';
import { visible } from '../../diagnostics/visible.ts';
import { drawControls } from '../../drawing/terminal.ts';
import type { Compiled } from '../../model/compiled.ts';
import type { DeviceControl, DeviceInput, Numbered, Numbering } from '../../model/device.ts';
import type { Decision, Instance } from '../../model/resolved.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { placeText } from '../terminal/code-frame.ts';
import { table } from '../terminal/table.ts';

/** The numberings that are told of every control, whoever uses them. */
const common: readonly Numbering[] = [
  { order: 'sdl', version: '2.26', udev: true },
  { order: 'sdl', version: '2.30', udev: true },
  { order: 'sdl', version: '2.26', udev: false },
  { order: 'kernel-joystick' },
  { order: 'w3c' },
  { order: 'code' },
  { order: 'name' },
];

function nameOf(numbering: Numbering): string {
  switch (numbering.order) {
    case 'sdl':
      return `SDL ${visible(numbering.version)} ${numbering.udev ? 'with' : 'without'} udev`;
    case 'kernel-joystick':
      return 'kernel joystick interface';
    case 'w3c':
      return 'W3C standard gamepad';
    case 'code':
      return 'event code number';
    case 'name':
      return 'event code name';
    case 'position':
      return 'position';
    case 'table':
      return "the dialect's own table";
  }
}

/** A numbering and the frontends that count by it. */
interface Counted {
  readonly numbering: Numbering;
  readonly by: readonly string[];
}

/** Those of this device's frontends first, then the common ones that none of them uses. */
function countedBy(instances: readonly Instance[]): readonly Counted[] {
  const found = new Map<string, { numbering: Numbering; by: string[] }>();
  for (const { name, numbering, dialect } of instances) {
    const { controls } = dialect.data;
    if (controls === undefined && numbering === undefined) continue;
    const own = numbering ?? dialectNumbering(controls);
    const key = JSON.stringify(own);
    const known = found.get(key);
    if (known === undefined) found.set(key, { numbering: own, by: [name] });
    else known.by.push(name);
  }
  const names = new Set([...found.values()].map(({ numbering }) => nameOf(numbering)));
  return [
    ...found.values(),
    ...common.flatMap((numbering) => (names.has(nameOf(numbering)) ? [] : [{ numbering, by: [] }])),
  ];
}

function numberedText(numbered: Numbered): string {
  switch (numbered.form) {
    case 'button':
      return `button ${numbered.index}`;
    case 'axis':
      return `axis ${numbered.axis}, side ${numbered.side}`;
    case 'hat':
      return `hat ${numbered.hat}, ${numbered.direction}`;
    case 'text':
      return numbered.text;
  }
}

/** Whether a setting's value needs the control, and how it is pressed for it. */
function useOf({ value, setting }: Decision, position: Position, hold: Position | undefined): string | undefined {
  if (value.kind === 'control') {
    if (value.position !== position) return undefined;
    return setting === 'hotkeys.hold' ? 'held while another is pressed' : 'by itself';
  }
  if (value.kind !== 'press') return undefined;
  const how = value.while === 'press' ? '' : value.while === 'held' ? ', as long as it is pressed' : ', on and off';
  switch (value.press.kind) {
    case 'with-hold':
      if (value.press.position === position) return (hold === undefined ? 'by itself' : `together with ${hold}`) + how;
      return hold === position ? `held, with ${value.press.position}` : undefined;
    case 'alone':
      return value.press.position === position ? `by itself${how}` : undefined;
    case 'chord': {
      const others = value.press.positions.filter((other) => other !== position);
      return others.length === value.press.positions.length ? undefined : `together with ${others.join(' and ')}${how}`;
    }
  }
}

/** `BTN_TR2 and ABS_RZ+ on pad`: codes by the input that sends them. */
function sendsText({ sources }: DeviceControl): string {
  if (sources.length === 0) return 'nothing says what it sends';
  const byInput = new Map<string, string[]>();
  for (const source of sources) {
    const code = source.kind === 'axis' ? `${source.code}${source.side}` : source.code;
    byInput.set(source.input, [...(byInput.get(source.input) ?? []), code]);
  }
  return `sends ${[...byInput].map(([input, codes]) => `${codes.join(' and ')} on ${visible(input)}`).join(' and ')}`;
}

/** What the capture says of the inputs that the control is on: `pad is "Fen Reed Pad" (bus 0019, …)`. */
function inputLines({ sources }: DeviceControl, inputs: readonly DeviceInput[]): readonly string[] {
  const hex = (number: number): string => number.toString(16).padStart(4, '0');
  return inputs.flatMap(({ name, identity }) =>
    identity === undefined || sources.every(({ input }) => input !== name)
      ? []
      : [
          `  ${visible(name)} is ${visible(JSON.stringify(identity.name))}: bus ${hex(identity.bus)}, vendor ${hex(identity.vendor)}, product ${hex(identity.product)}, version ${hex(identity.version)}`,
        ],
  );
}

/** One control: where it sits, what is printed on it, what it sends, its index under each numbering, and who uses it. */
export function controlLines(compiled: Compiled, control: DeviceControl): readonly string[] {
  const { resolved } = compiled;
  const { device } = resolved;
  const label = control.label === undefined ? 'no label given' : `labelled ${visible(control.label)}`;
  const lines = [
    `${control.position} of ${visible(device.name)}: ${label}; ${sendsText(control)}`,
    ...inputLines(control, device.controls.inputs),
    `  from ${placeText(control.place)}`,
  ];
  lines.push(
    ...drawControls({ body: device.body, has: [...device.controls.controls.keys()], marked: [control.position] }).map(
      (line) => `  ${line}`,
    ),
  );
  const fingers = fingersOf(control.position, device.body, device.hands);
  lines.push(`  reached by: ${fingers === undefined ? 'any finger, with a hand taken away' : fingers.join(' or ')}`);
  const rows = countedBy(resolved.instances).map(({ numbering, by }) => {
    const { numbered, problem } = numberControl(control, device.controls, numbering);
    return [
      by.length === 0 ? nameOf(numbering) : `${nameOf(numbering)} (${by.map((one) => visible(one)).join(', ')})`,
      numbered.length > 0 ? numbered.map(numberedText).join('; ') : `none: ${problem ?? 'it has no place there'}`,
    ];
  });
  lines.push(...table(rows, '  ').trimEnd().split('\n'));
  const uses: string[] = [];
  for (const chord of device.reserved) {
    if (!chord.positions.includes(control.position)) continue;
    const others = chord.positions.filter((position) => position !== control.position);
    uses.push(
      `the system: ${visible(chord.does)}, ${others.length === 0 ? 'by itself' : `together with ${others.join(' and ')}`}`,
    );
  }
  // What several frontends do with it alike is said once.
  const users = new Map<string, Set<string>>();
  for (const { decision, instance, setting } of compiled.fidelity) {
    const use = useOf(decision, control.position, resolved.holds.get(instance));
    if (use === undefined) continue;
    const line = `${setting}, ${use}`;
    users.set(line, (users.get(line) ?? new Set()).add(visible(instance)));
  }
  for (const [line, by] of users) uses.push(`${[...by].join(', ')}: ${line}`);
  lines.push(uses.length === 0 ? '  used by: nothing' : '  used by:', ...uses.map((use) => `    ${use}`));
  return lines;
}
