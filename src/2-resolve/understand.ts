import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { LayerDocument, Path } from '../model/document.ts';
import type { DeviceControls } from '../model/device.ts';
import type { Wish } from '../model/resolved.ts';
import type { Network } from '../model/value.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { parseQuantity } from '../vocabulary/units.ts';
import { plainText } from './plain-text.ts';
import { understandBind } from './understand-bind.ts';
import { understandControl } from './understand-control.ts';
import { understandCores } from './understand-cores.ts';

/** A value as written, where it stands, and the device it is for. */
export interface Written {
  readonly value: unknown;
  readonly document: LayerDocument;
  readonly path: Path;
  readonly controls: DeviceControls;
}

function wrong(
  written: Written,
  setting: SettingDefinition,
  what: string,
  wayOut: string,
  code: 'wrong-value' | 'secret-in-plain-text' = 'wrong-value',
): Finding {
  return makeFinding(code, {
    place: written.document.place(written.path),
    setting: setting.id,
    detail: `${setting.id}: ${what}.`,
    wayOut,
  });
}

/** The form `secret:NAME`, or undefined. */
function secretName(text: string): string | undefined {
  return /^secret:([a-z0-9]+(?:-[a-z0-9]+)*)$/.exec(text)?.[1];
}

/**
 * A value of the YAML as the setting's type understands it. The schema has checked the shape, so that only sense is
 * left: units, bounds, references to controls. Errors: `wrong-value`, `secret-in-plain-text` and those of references.
 */
export function understand(setting: SettingDefinition, written: Written): Outcome<Wish | undefined> {
  const { value } = written;
  if (value === null) return { value: { kind: 'clear' }, findings: [] };
  const good = (wish: Wish): Outcome<Wish> => ({ value: wish, findings: [] });
  const bad = (what: string, wayOut: string): Outcome<undefined> => ({
    value: undefined,
    findings: [wrong(written, setting, what, wayOut)],
  });
  const { type } = setting;
  switch (type.kind) {
    case 'boolean':
      return typeof value === 'boolean'
        ? good({ kind: 'value', value: { kind: 'boolean', is: value } })
        : bad('it is on or off', 'Write true or false.');
    case 'word': {
      if (typeof value === 'string' && type.of.includes(value))
        return good({ kind: 'value', value: { kind: 'word', word: value } });
      const near = nearestNames(plainText(value), type.of);
      return bad(`it knows no ${JSON.stringify(value)}`, `Write ${near[0] ?? `one of ${type.of.join(', ')}`}.`);
    }
    case 'number': {
      if (typeof value !== 'number') return bad('it is a number', 'Write a plain number.');
      if (type.whole && !Number.isInteger(value)) return bad('it is a whole number', `Write ${Math.round(value)}.`);
      if (type.min !== undefined && value < type.min)
        return bad(`${value} is below ${type.min}`, `Write ${type.min} or more.`);
      if (type.max !== undefined && value > type.max)
        return bad(`${value} is above ${type.max}`, `Write ${type.max} or less.`);
      return good({ kind: 'value', value: { kind: 'number', number: value } });
    }
    case 'quantity': {
      const text = plainText(value);
      if (type.words?.includes(text) === true) return good({ kind: 'value', value: { kind: 'word', word: text } });
      const amount = parseQuantity(text, type.measure);
      if (amount.kind === 'bad') return bad(amount.why, amount.wayOut);
      if (type.min !== undefined && amount.amount < type.min)
        return bad(`${text} is too little`, 'Write a greater amount.');
      if (type.max !== undefined && amount.amount > type.max)
        return bad(`${text} is too much`, 'Write a smaller amount.');
      return good({ kind: 'value', value: { kind: 'quantity', measure: type.measure, amount: amount.amount } });
    }
    case 'text':
      if (typeof value !== 'string') return bad('it is a text', 'Write a text.');
      if (type.pattern !== undefined && !new RegExp(type.pattern, 'u').test(value)) {
        return bad(
          `${JSON.stringify(value)} does not have the form it needs`,
          `Write it as in ${type.examples.join(' or ')}.`,
        );
      }
      return good({ kind: 'value', value: { kind: 'text', text: value } });
    case 'secret': {
      const name = typeof value === 'string' ? secretName(value) : undefined;
      if (name !== undefined) return good({ kind: 'value', value: { kind: 'secret', name } });
      return { value: undefined, findings: [plainSecret(written, setting)] };
    }
    case 'control':
      return understandControl(setting, written);
    case 'bind':
      return understandBind(setting, written);
    case 'place': {
      const [part, folder] = typeof value === 'string' ? value.split(/:(.*)/s) : [];
      if (part === undefined || folder === undefined || part === '')
        return bad('it names a part and a folder', "Write it as 'games:kept'.");
      return good({ kind: 'value', value: { kind: 'place', part, folder } });
    }
    case 'words': {
      const words = Array.isArray(value) ? value.map(plainText) : [plainText(value)];
      for (const word of words) {
        if (!type.of.includes(word))
          return bad(
            `it knows no ${JSON.stringify(word)}`,
            `Write ${nearestNames(word, type.of)[0] ?? `some of ${type.of.join(', ')}`}.`,
          );
      }
      // A set is kept in the registry's order, so that two ways to write it are one value.
      const sorted = type.ordered ? words : type.of.filter((word) => words.includes(word));
      return good({ kind: 'value', value: { kind: 'words', words: sorted } });
    }
    case 'texts':
      return good({
        kind: 'value',
        value: { kind: 'texts', texts: Array.isArray(value) ? value.map(plainText) : [plainText(value)] },
      });
    case 'networks':
      return understandNetworks(setting, written);
    case 'cores':
      return understandCores(written);
    case 'options':
      return good({ kind: 'value', value: { kind: 'text', text: plainText(value) } });
    case 'lists':
      return good({ kind: 'value', value: { kind: 'texts', texts: Array.isArray(value) ? value.map(plainText) : [] } });
  }
}

function plainSecret(written: Written, setting: SettingDefinition): Finding {
  // The value may be somebody's password: it is not repeated in the message.
  return wrong(
    written,
    setting,
    'a secret is named here, never written, because profiles are shared and committed',
    'Write secret:NAME, and give its value when the card is written.',
    'secret-in-plain-text',
  );
}

function understandNetworks(setting: SettingDefinition, written: Written): Outcome<Wish | undefined> {
  const findings: Finding[] = [];
  const networks: Network[] = [];
  const items: readonly unknown[] = Array.isArray(written.value) ? written.value : [];
  items.forEach((item, index) => {
    if (typeof item !== 'object' || item === null) return;
    const member = (name: string): unknown => Object.entries(item).find(([key]) => key === name)?.[1];
    const at: Written = { ...written, path: [...written.path, index] };
    const name = plainText(member('name'));
    if (name === '' || Buffer.byteLength(name) > 32) {
      // IEEE Std 802.11: an SSID has at most 32 octets.
      findings.push(wrong(at, setting, 'a network name has 1 to 32 bytes', 'Write the name as the router shows it.'));
      return;
    }
    const password = member('password');
    const secret = typeof password === 'string' ? secretName(password) : undefined;
    if (password !== undefined && secret === undefined) {
      findings.push(plainSecret({ ...at, path: [...at.path, 'password'] }, setting));
      return;
    }
    networks.push({ name, hidden: member('hidden') === true, ...(secret === undefined ? {} : { password: secret }) });
  });
  return { value: { kind: 'value', value: { kind: 'networks', networks } }, findings };
}
