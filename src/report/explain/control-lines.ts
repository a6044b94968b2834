import { fingersOf } from '../../controls/chords/fingers.ts';
import { numberControl } from '../../controls/number-control.ts';
import { visible } from '../../diagnostics/visible.ts';
import { drawControls } from '../../drawing/terminal.ts';
import type { Compiled } from '../../model/compiled.ts';
import type { DeviceControl, Numbered, Numbering } from '../../model/device.ts';
import type { Decision } from '../../model/resolved.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { placeText } from '../terminal/code-frame.ts';
import { table } from '../terminal/table.ts';

/** The numberings that are told of every control, each by where it is defined. */
const numberings: readonly { readonly name: string; readonly numbering: Numbering }[] = [
  { name: 'SDL 2.26 with udev', numbering: { order: 'sdl', version: '2.26.5', udev: true } },
  { name: 'SDL 2.30 with udev', numbering: { order: 'sdl', version: '2.30.0', udev: true } },
  { name: 'SDL 2.26 without udev', numbering: { order: 'sdl', version: '2.26.5', udev: false } },
  { name: 'kernel joystick interface', numbering: { order: 'kernel-joystick' } },
  { name: 'W3C standard gamepad', numbering: { order: 'w3c' } },
  { name: 'event code number', numbering: { order: 'code' } },
  { name: 'event code name', numbering: { order: 'name' } },
];

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
function useOf(decision: Decision, position: Position, hold: Position | undefined): string | undefined {
  const { value } = decision;
  if (value.kind === 'control') return value.position === position ? 'by itself' : undefined;
  if (value.kind !== 'press') return undefined;
  switch (value.press.kind) {
    case 'with-hold':
      if (value.press.position === position) return hold === undefined ? 'by itself' : `together with ${hold}`;
      return hold === position ? `held, with ${value.press.position}` : undefined;
    case 'alone':
      return value.press.position === position ? 'by itself' : undefined;
    case 'chord': {
      const others = value.press.positions.filter((other) => other !== position);
      return others.length === value.press.positions.length ? undefined : `together with ${others.join(' and ')}`;
    }
  }
}

/** One control: where it sits, what is printed on it, what it sends, its index under each numbering, and who uses it. */
export function controlLines(compiled: Compiled, control: DeviceControl): readonly string[] {
  const { resolved } = compiled;
  const { device } = resolved;
  const label = control.label === undefined ? 'no label given' : `labelled ${visible(control.label)}`;
  const sends =
    control.sources.length === 0
      ? 'nothing says what'
      : control.sources.map((source) => `${source.code} on ${visible(source.input)}`).join(' and ');
  const lines = [
    `${control.position} of ${visible(device.name)}: ${label}; sends ${sends}`,
    `  from ${placeText(control.place)}`,
  ];
  lines.push(
    ...drawControls({ body: device.body, has: [...device.controls.controls.keys()], marked: [control.position] }).map(
      (line) => `  ${line}`,
    ),
  );
  const fingers = fingersOf(control.position, device.body, device.hands);
  lines.push(`  reached by: ${fingers === undefined ? 'any finger, with a hand taken away' : fingers.join(' or ')}`);
  const rows = numberings.map(({ name, numbering }) => {
    const { numbered, problem } = numberControl(control, device.controls, numbering);
    return [
      name,
      numbered.length > 0 ? numbered.map(numberedText).join('; ') : `none: ${problem ?? 'it has no place there'}`,
    ];
  });
  lines.push(...table(rows, '  ').trimEnd().split('\n'));
  const uses: string[] = [];
  for (const chord of device.reserved) {
    if (chord.positions.includes(control.position))
      uses.push(`the system: ${chord.positions.join(' with ')} ${visible(chord.does)}`);
  }
  const told = new Set<string>();
  for (const { decision, instance, setting } of compiled.fidelity) {
    const use = useOf(decision, control.position, resolved.holds.get(instance));
    const line = `${instance}: ${setting}, ${use ?? ''}`;
    if (use !== undefined && !told.has(line)) uses.push(line);
    told.add(line);
  }
  lines.push(uses.length === 0 ? '  used by: nothing' : '  used by:', ...uses.map((use) => `    ${use}`));
  return lines;
}
