import { numberControl } from '../../controls/number-control.ts';
import type { DeviceControl, DeviceControls, Numbering } from '../../model/device.ts';
import type { NumberingWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Series } from '../contract.ts';

export type Form = 'button' | 'axis' | 'hat' | 'text';

/** One way in which a control can be written: the names that a template of its form must hold, with their texts. */
export interface Cell {
  readonly form: Form;
  readonly names: readonly (readonly [string, string])[];
}

/** One hypothesis of how controls are numbered. */
export interface NumberingCase {
  readonly written: NumberingWritten;
  readonly says: string;
  /** By series: what each control is called. */
  readonly cells: ReadonlyMap<Series, ReadonlyMap<Position, readonly Cell[]>>;
}

interface Hypothesis {
  readonly numbering: Numbering;
  readonly written: NumberingWritten;
  readonly says: string;
  /** The name that a word of it goes by in a template. */
  readonly word: 'value' | 'label';
}

/** One release for each way in which SDL has counted since 2.0.22, newest first. */
const releases = ['2.30', '2.26', '2.22'] as const;

/** The closed set of numberings, those without settings of their own first, so that of two that say the same it is kept. */
const hypotheses: readonly Hypothesis[] = Object.freeze([
  ...(['position', 'name', 'code', 'w3c', 'kernel-joystick'] as const).map((order): Hypothesis => ({
    numbering: { order },
    written: order,
    says: {
      position: 'positions',
      name: 'names of event codes',
      code: 'event codes',
      w3c: 'the standard gamepad',
      'kernel-joystick': "the kernel's joystick interface",
    }[order],
    word: 'value',
  })),
  { numbering: { order: 'position' }, written: 'position', says: 'the labels of the device', word: 'label' },
  ...releases.flatMap((version) =>
    [true, false].map((udev): Hypothesis => ({
      numbering: { order: 'sdl', version, udev },
      written: { order: 'sdl', version, udev },
      says: `SDL ${version} ${udev ? 'with' : 'without'} udev`,
      word: 'value',
    })),
  ),
]);

function cellsOf(control: DeviceControl, controls: DeviceControls, { numbering, word }: Hypothesis): readonly Cell[] {
  if (word === 'label') return control.label === undefined ? [] : [{ form: 'text', names: [['label', control.label]] }];
  const { numbered, undecided } = numberControl(control, controls, numbering);
  if (undecided === true) return [];
  return numbered.map((one, at): Cell => {
    switch (one.form) {
      case 'button':
        return { form: 'button', names: [['index', String(one.index)]] };
      case 'axis':
        return {
          form: 'axis',
          names: [
            ['axis', String(one.axis)],
            ['side', one.side],
          ],
        };
      case 'hat':
        return {
          form: 'hat',
          names: [
            ['hat', String(one.hat)],
            ['direction', one.direction],
          ],
        };
      case 'text': {
        const source = control.sources[at];
        const sided = numbering.order !== 'position' && source?.kind === 'axis';
        return { form: 'text', names: [['value', one.text], ...(sided ? ([['side', source.side]] as const) : [])] };
      }
    }
  });
}

/** Every numbering of the closed set on these devices. One that calls every control as an earlier one does is that one. */
export function numberingCases(series: readonly Series[]): readonly NumberingCase[] {
  const found = new Map<string, NumberingCase>();
  for (const hypothesis of hypotheses) {
    const cells = new Map<Series, ReadonlyMap<Position, readonly Cell[]>>();
    for (const one of series) {
      const { controls } = one;
      if (controls === undefined) continue;
      const own = [...controls.controls].map(
        ([position, control]) => [position, cellsOf(control, controls, hypothesis)] as const,
      );
      cells.set(one, new Map(own));
    }
    const key = JSON.stringify([...cells.values()].map((map) => [...map]));
    if (!found.has(key)) found.set(key, { written: hypothesis.written, says: hypothesis.says, cells });
  }
  return [...found.values()];
}
