import type { Position } from '../../vocabulary/positions.ts';
import type { Series } from '../contract.ts';
import { render } from './form-template.ts';
import type { Cell, Form } from './numbering-cases.ts';
import type { Scheme } from './schemes.ts';

/** Templates of a single control, with the hold control and what joins the two taken off. */
export interface HoldChord {
  readonly templates: ReadonlyMap<Form, string>;
  readonly hold: Position;
  readonly join: string;
  readonly order: 'hold-first' | 'hold-last';
}

/**
 * Where every chord has the hold control written in it, each template is `HOLD join INNER` or `INNER join HOLD`, with HOLD
 * as INNER spells it. Undefined where no split of the button's template is so.
 */
export function holdInChord({ numbering, templates }: Scheme, series: Series): HoldChord | undefined {
  const base: Form = templates.has('button') ? 'button' : 'text';
  const whole = templates.get(base);
  const cells = numbering.cells.get(series);
  if (whole === undefined || cells === undefined) return undefined;
  const first = whole.indexOf('{{');
  const last = whole.lastIndexOf('}}') + 2;
  for (const [hold, ways] of cells) {
    const cell = ways.find(({ form }) => form === base);
    if (cell === undefined) continue;
    for (let cut = first; cut > 0; cut--) {
      const found = split(templates, cell, hold, 'hold-first', whole.slice(0, cut), whole.slice(cut));
      if (found !== undefined) return found;
    }
    for (let cut = last; cut < whole.length; cut++) {
      const found = split(templates, cell, hold, 'hold-last', whole.slice(cut), whole.slice(0, cut));
      if (found !== undefined) return found;
    }
  }
  return undefined;
}

function split(
  templates: ReadonlyMap<Form, string>,
  cell: Cell,
  hold: Position,
  order: HoldChord['order'],
  rest: string,
  inner: string,
): HoldChord | undefined {
  const held = render(inner, cell);
  const fits = order === 'hold-first' ? rest.startsWith(held) : rest.endsWith(held);
  const join = order === 'hold-first' ? rest.slice(held.length) : rest.slice(0, rest.length - held.length);
  // What joins is marks, or a word of its own, not part of a word.
  if (!fits || join === '' || /^[\p{L}\p{N}]|[\p{L}\p{N}]$|\p{N}/u.test(join)) return undefined;
  const single = new Map<Form, string>();
  for (const [form, template] of templates) {
    const own = order === 'hold-first' ? template.startsWith(rest) : template.endsWith(rest);
    if (!own) return undefined;
    single.set(
      form,
      order === 'hold-first' ? template.slice(rest.length) : template.slice(0, template.length - rest.length),
    );
  }
  return { templates: single, hold, join, order };
}
