import { nearestNames } from '../diagnostics/nearest.ts';
import type { DeviceControls } from '../model/device.ts';
import type { Press, Value } from '../model/value.ts';
import { isPosition, positions } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { parseQuantity } from '../vocabulary/units.ts';

/** A value as somebody typed it behind a setting, or what is wrong with it: a sentence. */
export type LabelValue =
  | { readonly kind: 'value'; readonly value: Value; readonly manner?: 'held' | 'toggled' }
  | { readonly kind: 'bad'; readonly why: string };

const bad = (why: string): LabelValue => ({ kind: 'bad', why });
const good = (value: Value): LabelValue => ({ kind: 'value', value });

function control(text: string, controls: DeviceControls | undefined): Position | undefined {
  if (isPosition(text)) return text;
  const labelled = [...(controls?.controls ?? [])].filter(([, { label }]) => label === text);
  return labelled.length === 1 ? labelled[0]?.[0] : undefined;
}

function oneOf(text: string, words: readonly string[]): string {
  const near = nearestNames(text, words);
  return `Write ${(near.length > 0 ? near : words).join(' or ')}.`;
}

function list(text: string): readonly string[] {
  return text
    .split(',')
    .map((item) => item.trim())
    .filter((item) => item !== '');
}

/** A position or label; `select+start` for a chord, `alone east`; `held` or `toggled` behind it. */
function bind(text: string, whiles: boolean, controls: DeviceControls | undefined): LabelValue {
  const manner = / (held|toggled)$/.exec(text)?.[1];
  const bare = text.replace(/ (held|toggled)$/, '');
  const alone = bare.startsWith('alone ');
  const names = bare.replace(/^alone /, '').split('+');
  const found: Position[] = [];
  for (const name of names) {
    const position = control(name.trim(), controls);
    if (position === undefined) return bad(`No control is called ${JSON.stringify(name)}. ${oneOf(name, positions)}`);
    found.push(position);
  }
  const [first] = found;
  if (first === undefined) return bad('No control is named.');
  const press: Press =
    found.length > 1 ? { kind: 'chord', positions: found } : { kind: alone ? 'alone' : 'with-hold', position: first };
  const said = manner === 'held' || manner === 'toggled' ? manner : undefined;
  return {
    kind: 'value',
    value: { kind: 'press', press, while: whiles ? (said ?? 'held') : 'press' },
    ...(said === undefined || !whiles ? {} : { manner: said }),
  };
}

/** Reads what somebody typed for a setting: as a profile has it, a hotkey as its control. */
export function labelValue(setting: SettingDefinition, text: string, controls: DeviceControls | undefined): LabelValue {
  const { type } = setting;
  if (text === 'none' && (type.kind === 'bind' || type.kind === 'control')) return good({ kind: 'none' });
  switch (type.kind) {
    case 'boolean':
      return text === 'true' || text === 'false'
        ? good({ kind: 'boolean', is: text === 'true' })
        : bad('It is true or false.');
    case 'word':
      return type.of.includes(text)
        ? good({ kind: 'word', word: text })
        : bad(`It is no value of it. ${oneOf(text, type.of)}`);
    case 'number':
      return text.trim() !== '' && Number.isFinite(Number(text))
        ? good({ kind: 'number', number: Number(text) })
        : bad('It is no number.');
    case 'quantity': {
      if (type.words?.includes(text) === true) return good({ kind: 'word', word: text });
      const quantity = parseQuantity(text, type.measure);
      return quantity.kind === 'amount'
        ? good({ kind: 'quantity', measure: type.measure, amount: quantity.amount })
        : bad(`${quantity.why}. ${quantity.wayOut}`);
    }
    case 'text':
      return good({ kind: 'text', text });
    case 'control': {
      const position = control(text, controls);
      return position === undefined
        ? bad(`No control is called so. ${oneOf(text, positions)}`)
        : good({ kind: 'control', position });
    }
    case 'bind':
      return bind(text, type.whiles, controls);
    case 'place': {
      const colon = text.indexOf(':');
      return colon < 1
        ? bad('Write it as part:folder.')
        : good({ kind: 'place', part: text.slice(0, colon), folder: text.slice(colon + 1) });
    }
    case 'words': {
      const words = list(text);
      const strange = words.find((word) => !type.of.includes(word));
      return strange === undefined
        ? good({ kind: 'words', words })
        : bad(`${JSON.stringify(strange)} is no word of it. ${oneOf(strange, type.of)}`);
    }
    case 'texts':
      return good({ kind: 'texts', texts: list(text) });
    case 'secret':
      return bad('A password or account is never told; its key is told by its name.');
    case 'networks':
    case 'cores':
    case 'options':
    case 'lists':
      return bad('It has no single value, and is not learnt from a change yet.');
  }
}
