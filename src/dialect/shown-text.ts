import type { SyntaxValue } from '../syntax/contract.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';

/** What an unreadable key holds, for people. A secret is never shown. */
export function shownText(value: SyntaxValue | undefined, setting: SettingDefinition): string {
  if (setting.type.kind === 'secret') return '(hidden)';
  if (value === undefined) return '';
  return value.kind === 'scalar' ? value.text : value.items.map((item) => item.text).join(', ');
}
