import { makeMapping } from '../../controls/make-mapping.ts';
import { printMapping } from '../../controls/sdl-mapping.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { dialectNumbering } from '../../controls/dialect-numbering.ts';
import { sameText } from '../../model/same-text.ts';
import type { Context } from '../contract.ts';
import type { Cannot, CodecKind } from './contract.ts';
import { oneSlot, onlySlot, onlyText } from './held.ts';

/** The device's line, taken apart where a file has the GUID as its key. */
interface DeviceLine {
  readonly kind: 'line';
  readonly guid: string;
  /** From the name on, without the comma before it. */
  readonly rest: string;
  /** Controls that are not in it, as a phrase; undefined when all are. */
  readonly without: string | undefined;
}

interface Wanted {
  readonly input: string | undefined;
  readonly version: string | undefined;
  readonly udev: boolean | undefined;
}

/**
 * The SDL mapping line of the device's game pad, where the setting is on; nothing where it is off. The whole line, or, in
 * a file whose lines are named by what stands before a comma, what follows the GUID. It is read back only as it is
 * written: another line for the same GUID says something that no profile can.
 */
export const mapping: CodecKind<'mapping'> = {
  name: 'mapping',
  fits: ['boolean'],
  make(written, site) {
    const { controls } = site.document.data;
    const own = dialectNumbering(controls);
    const wanted: Wanted = {
      input: controls?.device,
      version: written.version ?? (own.order === 'sdl' ? own.version : undefined),
      udev: written.udev ?? (own.order === 'sdl' ? own.udev : undefined),
    };
    if (wanted.version === undefined) {
      const finding = makeFinding('bad-codec', {
        place: site.place,
        setting: site.setting.id,
        detail: 'It does not say which release of SDL reads the line, and releases count controls differently.',
        wayOut: 'Write it as in mapping: { version: 2.26, udev: true }.',
      });
      return { value: undefined, findings: [finding] };
    }
    const lines = new WeakMap<Context, DeviceLine | Cannot>();
    const lineOf = (context: Context): DeviceLine | Cannot => {
      let known = lines.get(context);
      if (known === undefined) lines.set(context, (known = makeLine(context, wanted)));
      return known;
    };
    return {
      value: {
        rule: { name: 'mapping', says: 'the SDL mapping line of the device' },
        nothing: undefined,
        ...(site.keyed
          ? {}
          : {
              ownKey(context) {
                const line = lineOf(context);
                return line.kind === 'line' ? line.guid : line;
              },
            }),
        spell(value, at) {
          // To take a line out, nothing need be known of the pad.
          if (value.kind !== 'boolean' || !value.is) return { kind: 'exact', slots: new Map() };
          const line = lineOf(at.context);
          if (line.kind === 'cannot') return line;
          const slots = oneSlot(site.keyed ? `${line.guid},${line.rest}` : line.rest);
          return line.without === undefined
            ? { kind: 'exact', slots }
            : { kind: 'approximated', slots, how: `says nothing of ${line.without}` };
        },
        others: () => [],
        same: sameText,
        candidates: (held) =>
          held.has(onlySlot) && onlyText(held) !== undefined
            ? [
                { kind: 'boolean', is: true },
                { kind: 'boolean', is: false },
              ]
            : [],
      },
      findings: [],
    };
  },
};

function makeLine(context: Context, wanted: Wanted): DeviceLine | Cannot {
  const { controls, numbering } = context;
  const from = numbering?.order === 'sdl' ? numbering : undefined;
  const version = from?.version ?? wanted.version ?? '';
  const name = wanted.input ?? 'pad';
  const input = controls.inputs.find((one) => one.name === name);
  if (input?.identity === undefined)
    return {
      kind: 'cannot',
      code: 'mapping-without-capture',
      why:
        input === undefined
          ? `the device has no input called ${name}`
          : `nothing tells the bus, vendor, product and version of the input ${name}, by which a mapping line finds its device`,
    };
  const { line, left } = makeMapping(controls, {
    input: name,
    identity: input.identity,
    version,
    udev: from?.udev ?? wanted.udev ?? true,
  });
  const open = left.find(({ undecided }) => undecided);
  if (open !== undefined)
    return {
      kind: 'cannot',
      code: 'mapping-undecided',
      why: `the line has a place for ${open.position}, but ${open.why}`,
    };
  const [first] = left;
  if (first !== undefined && line.fields.every((field) => field.kind === 'other'))
    return { kind: 'cannot', code: 'no-such-control-form', why: `no control has a place in the line: ${first.why}` };
  const printed = printMapping(line);
  return {
    kind: 'line',
    guid: line.guid,
    rest: printed.slice(line.guid.length + 1),
    without: left.length === 0 ? undefined : left.map(({ position, why }) => `${position} (${why})`).join(' and '),
  };
}
