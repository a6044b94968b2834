import type { Network, Press, Value } from '../../../src/model/value.ts';
import { isPosition } from '../../../src/vocabulary/positions.ts';
import type { Position } from '../../../src/vocabulary/positions.ts';
import { settingById } from '../../../src/vocabulary/registry.ts';
import { parseQuantity } from '../../../src/vocabulary/units.ts';

function position(text: string): Position {
  if (!isPosition(text)) throw new Error(`no position: ${text}`);
  return text;
}

function press(text: string): Press {
  const [first = '', second] = text.split(' ');
  if (first === 'alone') return { kind: 'alone', position: position(second ?? '') };
  if (first.includes('+')) return { kind: 'chord', positions: first.split('+').map(position) };
  return { kind: 'with-hold', position: position(first) };
}

/**
 * The value of a setting from one line of a case: `true`, `10 s`, `start held`, `select+start`, `alone select`,
 * `games:kept`, `picture, video`, `harrow-hall/thrush`, `secret:hall`, `Hall secret:hall; Guest`.
 */
export function valueFromText(setting: string, text: string): Value {
  const type = settingById(setting)?.type;
  if (type === undefined) throw new Error(`no setting: ${setting}`);
  if (text === 'none' && (type.kind === 'bind' || type.kind === 'control')) return { kind: 'none' };
  switch (type.kind) {
    case 'boolean':
      return { kind: 'boolean', is: text === 'true' };
    case 'word':
      return { kind: 'word', word: text };
    case 'number':
      return { kind: 'number', number: Number(text) };
    case 'quantity': {
      if (type.words?.includes(text) === true) return { kind: 'word', word: text };
      const quantity = parseQuantity(text, type.measure);
      if (quantity.kind === 'bad') throw new Error(quantity.why);
      return { kind: 'quantity', measure: type.measure, amount: quantity.amount };
    }
    case 'text':
    case 'options':
      return { kind: 'text', text };
    case 'secret':
      return { kind: 'secret', name: text.replace('secret:', '') };
    case 'control':
      return { kind: 'control', position: position(text) };
    case 'bind': {
      const manner = / (held|toggled)$/.exec(text)?.[1];
      const bare = text.replace(/ (held|toggled)$/, '');
      return { kind: 'press', press: press(bare), while: manner === 'held' || manner === 'toggled' ? manner : 'press' };
    }
    case 'place':
      return { kind: 'place', part: text.split(':')[0] ?? '', folder: text.split(':')[1] ?? '' };
    case 'words':
      return { kind: 'words', words: text === '' ? [] : text.split(', ') };
    case 'texts':
      return { kind: 'texts', texts: text === '' ? [] : text.split(', ') };
    case 'networks':
      return {
        kind: 'networks',
        networks: text.split('; ').map((one): Network => {
          const [name = '', password] = one.split(' secret:');
          return { name, hidden: false, ...(password === undefined ? {} : { password }) };
        }),
      };
    case 'cores':
      return { kind: 'core', instance: text.split('/')[0] ?? '', core: text.split('/')[1] ?? '' };
    case 'lists':
      throw new Error(`${setting} has no value in a line`);
  }
}
