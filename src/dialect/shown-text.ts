import { plainText } from '../model/plain-text.ts';
import type { SyntaxValue } from '../syntax/contract.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';

/** What an unreadable key holds, for people. A secret is never shown. */
export function shownText(value: SyntaxValue | undefined, setting: SettingDefinition): string {
  if (setting.type.kind === 'secret') return '(hidden)';
  return value === undefined ? '' : plainText(value);
}
