import type { Guide } from './guide-at.ts';

/** The kinds that a place takes; everything where nothing is known of it. */
export function kindsOf(guide: Guide | undefined): ReadonlySet<string> {
  const { type, says } = guide ?? {};
  const kinds = new Set(type === undefined ? [] : typeof type === 'string' ? [type] : type);
  // Editors are told that a text may look like a number; here it is a text all the same.
  if (says === 'text' || says?.startsWith('quantity') === true) {
    kinds.delete('number');
    kinds.delete('integer');
    kinds.delete('boolean');
  }
  return kinds;
}

/**
 * A scalar by what is wanted at its place. YAML 1.2.2 section 10.3.2 (core schema) says which plain scalars are null,
 * booleans and numbers; where a text is wanted, it is the source text.
 */
export function readScalar(text: string, plain: boolean, guide: Guide | undefined): string | number | boolean | null {
  if (!plain) return text;
  const kinds = kindsOf(guide);
  const isNull = /^(?:~|null|Null|NULL|)$/.test(text);
  if (isNull && (kinds.has('null') || text === '')) return null;
  if (kinds.has('boolean') && /^(?:true|True|TRUE|false|False|FALSE)$/.test(text)) return text.toLowerCase() === 'true';
  if (kinds.has('integer') || kinds.has('number')) {
    if (/^[-+]?[0-9]+$/.test(text)) return Number(text);
    if (/^0o[0-7]+$/.test(text) || /^0x[0-9a-fA-F]+$/.test(text)) return Number(text);
    if (/^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$/.test(text)) return Number(text);
  }
  return text;
}
