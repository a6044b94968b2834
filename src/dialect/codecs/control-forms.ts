import { numberControl } from '../../controls/number-control.ts';
import type { NumberedControl } from '../../controls/number-control.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { ControlSource, DeviceControl, DeviceControls, Numbered } from '../../model/device.ts';
import type { Path } from '../../model/document.ts';
import type { ControlsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { Context } from '../contract.ts';
import { dialectNumbering } from '../../controls/dialect-numbering.ts';
import { controlNames } from '../template/names.ts';
import { parseTemplate } from '../template/parse-template.ts';
import type { Template, TemplateValue } from '../template/template.ts';
import type { Cannot, Moment, Site } from './contract.ts';
import { onlySlot } from './held.ts';

type Form = Numbered['form'];
type Manner = 'held' | 'toggled' | 'press' | undefined;

/** One way to write a control. */
export interface ControlForm {
  readonly form: Form;
  readonly text: string;
}

interface Overrides {
  readonly button?: string;
  readonly axis?: string;
  readonly hat?: string;
}

/** How a dialect, or one entry of it, writes controls: the forms, best first. */
export class ControlForms {
  private readonly templates: ReadonlyMap<Form, Template>;
  private readonly prefer: readonly Form[];
  private readonly keys: Site['forms'];
  private readonly written = new WeakMap<Context, ReadonlyMap<Position, readonly ControlForm[]>>();

  private constructor(
    templates: ReadonlyMap<Form, Template>,
    controls: ControlsWritten | undefined,
    keys: Site['forms'],
  ) {
    this.templates = templates;
    this.prefer = [...(controls?.prefer ?? []), 'button', 'axis', 'hat', 'text'];
    this.keys = keys;
  }

  /** Reads the templates of the entry, or of the dialect's controls section where the entry has none. */
  static read(
    overrides: Overrides,
    site: Site,
  ): { readonly forms: ControlForms | undefined; readonly findings: readonly Finding[] } {
    const { document, path } = site;
    const controls = document.data.controls;
    const findings: Finding[] = [];
    const templates = new Map<Form, Template>();
    for (const form of ['button', 'axis', 'hat'] as const) {
      const own = overrides[form];
      const text = own ?? controls?.[form];
      if (text === undefined) continue;
      const at: Path = own === undefined ? ['controls', form] : [...path, form];
      const read = parseTemplate(document.place(at), text, controlNames);
      findings.push(...read.findings);
      if (read.value !== undefined) templates.set(form, read.value);
    }
    // Names, codes and words of a table are written as buttons are; as they are when nothing is said.
    const plain = parseTemplate(site.place, templates.get('button')?.text ?? '{{value}}', controlNames).value;
    if (plain !== undefined) templates.set('text', plain);
    return { forms: findings.length > 0 ? undefined : new ControlForms(templates, controls, site.forms), findings };
  }

  /** Every way to write a control on this device, best first, whatever the keys. */
  of(position: Position, at: Moment): readonly ControlForm[] | Cannot {
    const control = at.context.controls.controls.get(position);
    if (control === undefined) return { kind: 'cannot', code: 'not-expressible', why: `the device has no ${position}` };
    const forms = this.all(at.context).get(position) ?? [];
    return forms.length > 0
      ? forms
      : { kind: 'cannot', code: 'no-such-control-form', why: this.reason(control, at.context) };
  }

  /** Those for which the key map has a key, with `while` as it is. */
  keyed(position: Position, manner: Manner, at: Moment): readonly ControlForm[] | Cannot {
    const forms = this.of(position, at);
    if ('kind' in forms || this.keys === undefined) return forms;
    const keys = this.keys(manner);
    // No key at all for this `while`: the lens says so.
    if (keys.size === 0) return forms;
    const fit = forms.filter((one) => keys.has(slotIn(keys, one.form)));
    const sent = [...new Set(forms.map((one) => words[one.form]))].join(' or ');
    return fit.length > 0
      ? fit
      : {
          kind: 'cannot',
          code: 'no-such-control-form',
          why: `${position} is ${sent} there, and the dialect has no key for that`,
        };
  }

  /** The slot of a form: its own key where the key map has one; a hat without one uses the button's, words too. */
  slot(form: Form, manner: Manner): string {
    return this.keys === undefined ? onlySlot : slotIn(this.keys(manner), form);
  }

  /** The controls that a text names in the key of this slot, in the device's order. */
  positions(text: string, slot: string, at: Moment): readonly Position[] {
    const found: Position[] = [];
    const fits = (form: Form): boolean =>
      slot === onlySlot || form === slot || (slot === 'button' && (form === 'hat' || form === 'text'));
    for (const [position, forms] of this.all(at.context)) {
      if (forms.some((one) => one.text === text && fits(one.form))) found.push(position);
    }
    return found;
  }

  /** Every text that names a control of this device. */
  texts(at: Moment): readonly string[] {
    return [...new Set([...this.all(at.context).values()].flatMap((forms) => forms.map((form) => form.text)))];
  }

  private all(context: Context): ReadonlyMap<Position, readonly ControlForm[]> {
    let known = this.written.get(context);
    if (known === undefined) {
      known = new Map(
        [...context.controls.controls].map(([position, control]) => [position, this.write(control, context)]),
      );
      this.written.set(context, known);
    }
    return known;
  }

  private write(control: DeviceControl, context: Context): readonly ControlForm[] {
    const found: ControlForm[] = [];
    for (const form of new Set(this.prefer)) {
      const template = this.templates.get(form);
      if (template === undefined) continue;
      for (const [at, numbered] of numberedOf(control, context).numbered.entries()) {
        if (numbered.form !== form) continue;
        const names = namesOf(
          numbered,
          control,
          numbered.form === 'text' ? control.sources[at] : numbered.source,
          context,
        );
        const made = template.render(
          (name) => names.get(name),
          (text) => text,
        );
        if (made.kind === 'text') found.push({ form, text: made.text });
      }
    }
    return found;
  }

  private reason(control: DeviceControl, context: Context): string {
    const { numbered, problem } = numberedOf(control, context);
    const sent = [...new Set(numbered.map((one) => one.form))];
    if (sent.length > 0)
      return `${control.position} is ${sent.map((form) => words[form]).join(' or ')} there, and the dialect writes none`;
    return problem ?? `what ${control.position} sends is not known`;
  }
}

function slotIn(keys: ReadonlySet<string>, form: Form): string {
  return form === 'text' || (form === 'hat' && !keys.has('hat')) ? 'button' : form;
}

const words: Readonly<Record<Form, string>> = { button: 'a button', axis: 'an axis', hat: 'a hat', text: 'a word' };

/** Every entry that writes controls asks for all of them. */
const numberedOnce = new WeakMap<Context, Map<DeviceControl, NumberedControl>>();

function numberedOf(control: DeviceControl, context: Context): NumberedControl {
  let known = numberedOnce.get(context);
  if (known === undefined) numberedOnce.set(context, (known = new Map<DeviceControl, NumberedControl>()));
  let numbered = known.get(control);
  if (numbered === undefined) known.set(control, (numbered = number(control, context)));
  return numbered;
}

function number(control: DeviceControl, context: Context): NumberedControl {
  const section = context.dialect.data.controls;
  const numbering = context.numbering ?? dialectNumbering(section);
  const input = section?.device;
  if (input === undefined) return numberControl(control, context.controls, numbering);
  const only: DeviceControls = {
    ...context.controls,
    inputs: context.controls.inputs.filter((one) => one.name === input),
  };
  return numberControl(
    { ...control, sources: control.sources.filter((source) => source.input === input) },
    only,
    numbering,
  );
}

function namesOf(
  numbered: Numbered,
  control: DeviceControl,
  source: ControlSource | undefined,
  context: Context,
): ReadonlyMap<string, TemplateValue> {
  const names = new Map<string, TemplateValue>([
    ['position', control.position],
    ['instance.name', context.instance],
    ['device.id', context.device.id],
    ['device.name', context.device.name],
  ]);
  if (control.label !== undefined) names.set('label', control.label);
  if (source !== undefined) {
    names.set('code', String(source.number));
    names.set('name', source.code);
    if (source.kind === 'axis') names.set('side', source.side);
  }
  switch (numbered.form) {
    case 'button':
      return names.set('index', String(numbered.index));
    case 'axis':
      return names.set('axis', String(numbered.axis)).set('index', String(numbered.axis)).set('side', numbered.side);
    case 'hat':
      return names
        .set('hat', String(numbered.hat))
        .set('index', String(numbered.hat))
        .set('direction', numbered.direction);
    case 'text':
      return names.set('value', numbered.text).set('index', numbered.text);
  }
}
