import { secretPlaceholder } from '../../model/secret-placeholder.ts';
import { psk } from './psk.ts';
import type { NameLookup, Rendered, SecretPlace, TemplateItem, TemplateNode, TemplateValue } from './template.ts';

/** Characters that one template may make in all: more than any settings file has. */
const limit = 4 * 1024 * 1024;

function isList(value: TemplateValue | undefined): value is readonly TemplateItem[] {
  return Array.isArray(value);
}

function holds(value: TemplateValue | undefined): boolean {
  if (value === undefined || value === false || value === '') return false;
  return !isList(value) || value.length > 0;
}

/** Evaluates a checked template. No code is made or run: the nodes are data, and a name is looked up, nothing more. */
export function renderTemplate(
  nodes: readonly TemplateNode[],
  names: NameLookup,
  escape: (value: string) => string,
): Rendered {
  const parts: string[] = [];
  let length = 0;

  const put = (text: string): void => {
    length += text.length;
    if (length <= limit) parts.push(text);
  };

  const secrets: SecretPlace[] = [];
  const putSecret = (text: string, of: Pick<SecretPlace, 'name' | 'network'>): void => {
    secrets.push({ start: length, end: length + text.length, ...of });
    put(text);
  };

  const plain = (
    name: string,
    look: NameLookup,
  ): Rendered | { readonly kind: 'secret'; readonly name: string; readonly text: string } => {
    const value = look(name);
    if (value === undefined || isList(value)) return { kind: 'missing', name };
    if (typeof value === 'object')
      return value.text === undefined
        ? { kind: 'secret', name: value.secret, text: secretPlaceholder(value.secret) }
        : { kind: 'text', text: value.text };
    return { kind: 'text', text: typeof value === 'boolean' ? String(value) : value };
  };

  const walk = (list: readonly TemplateNode[], look: NameLookup): Rendered | undefined => {
    for (const node of list) {
      if (length > limit) return { kind: 'cannot', why: 'the text would be larger than 4 MiB' };
      switch (node.kind) {
        case 'text':
          put(node.text);
          break;
        case 'insert': {
          const value = plain(node.name, look);
          if (value.kind === 'missing' || value.kind === 'cannot') return value;
          if (value.kind === 'secret') putSecret(escape(value.text), { name: value.name });
          else put(escape(value.text));
          break;
        }
        case 'psk': {
          const password = plain(node.password, look);
          const ssid = plain(node.ssid, look);
          if (password.kind === 'missing' || password.kind === 'cannot') return password;
          if (ssid.kind === 'missing' || ssid.kind === 'cannot') return ssid;
          // A secret that is only named has no key yet: its place is kept, and filled where the secret is known.
          if (password.kind === 'secret') {
            putSecret(escape(password.text), { name: password.name, network: ssid.text });
            break;
          }
          const key = psk(password.text, ssid.text);
          if (key === undefined) {
            return {
              kind: 'cannot',
              why: 'a Wi-Fi key needs a password of 8 to 63 and a network name of 1 to 32 octets',
            };
          }
          put(escape(key));
          break;
        }
        case 'if': {
          const failed = walk(holds(look(node.name)) ? node.then : node.otherwise, look);
          if (failed !== undefined) return failed;
          break;
        }
        case 'each': {
          const value = look(node.name);
          if (value !== undefined && !isList(value)) return { kind: 'missing', name: node.name };
          const items = value ?? [];
          if (items.length === 0) {
            const failed = walk(node.otherwise, look);
            if (failed !== undefined) return failed;
          }
          for (const [at, item] of items.entries()) {
            const within: NameLookup = (name) => {
              if (name === '@index') return String(at);
              if (name === '@first') return at === 0;
              if (name === '@last') return at === items.length - 1;
              return name === 'this' || name.startsWith('this.') ? item.get(name) : look(name);
            };
            const failed = walk(node.body, within);
            if (failed !== undefined) return failed;
          }
          break;
        }
      }
    }
    return undefined;
  };

  return walk(nodes, names) ?? { kind: 'text', text: parts.join(''), ...(secrets.length === 0 ? {} : { secrets }) };
}
