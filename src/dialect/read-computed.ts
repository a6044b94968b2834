import type { ScopePoint } from '../model/resolved.ts';
import { sameValue } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import type { CompiledComputed } from './compiled-dialect.ts';
import { computedCandidates } from './computed.ts';
import type { KeyLookup, ReadBack } from './contract.ts';
import type { Locator } from './locator.ts';
import { shownText } from './shown-text.ts';
import type { NameLookup } from './template/template.ts';

/** One of the settings that a computed key is made from, where the key's text tells it by itself. */
export function readComputed(
  key: CompiledComputed,
  setting: SettingDefinition,
  locate: Locator,
  { names, point }: { readonly names: NameLookup; readonly point: ScopePoint },
  look: KeyLookup,
  current: Value | undefined,
): ReadBack {
  const path = locate.filePath(key.file, locate.cardNames(point), point);
  const name = locate.keyAt(key.file, key.key, names, point);
  const held = typeof path === 'string' && typeof name === 'string' ? look(path, name) : undefined;
  if (held === undefined || typeof name !== 'string') return { kind: 'absent' };
  const values = held.kind === 'scalar' ? computedCandidates(key, setting.id, held.text, names) : [];
  const [first] = values;
  if (values.length === 1 && first !== undefined)
    return { kind: 'value', value: current !== undefined && sameValue(current, first) ? current : first };
  return { kind: 'unreadable', keys: [{ file: key.file.id, key: name, text: shownText(held, setting) }] };
}
