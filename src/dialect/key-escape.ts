import type { SyntaxName } from '../syntax/contract.ts';

/** A name put into a key, so that it stays one member of the key's path. */
export function escapeInKey(syntax: SyntaxName, name: string): string {
  switch (syntax) {
    case 'json':
      // RFC 6901, section 3.
      return name.replaceAll('~', '~0').replaceAll('/', '~1');
    case 'toml':
    case 'yaml':
      return /^[A-Za-z0-9_-]+$/.test(name) ? name : JSON.stringify(name);
    case 'pairs':
    case 'ini':
    case 'xml':
    case 'properties':
    case 'lines':
    case 'template':
      return name;
  }
}
