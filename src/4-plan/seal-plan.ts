import { createHash } from 'node:crypto';
import type { Plan } from '../model/plan.ts';

type Json = string | number | boolean | null | readonly Json[] | { readonly [name: string]: Json };

/** Plain data with sorted members; a map as pairs, in its order. */
function plain(value: unknown): Json | undefined {
  if (value === undefined || value === null) return undefined;
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') return value;
  if (Array.isArray(value)) return value.map((item) => plain(item) ?? null);
  if (value instanceof Map) return [...value].map(([name, member]) => [plain(name) ?? null, plain(member) ?? null]);
  if (typeof value !== 'object') throw new Error('A plan holds what is no data. This is a bug in thumbwright.');
  const members = Object.entries(value)
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .flatMap(([name, member]) => {
      const made = plain(member);
      return made === undefined ? [] : [[name, made] as const];
    });
  return Object.fromEntries(members);
}

/**
 * The text that a seal is made of: members sorted by UTF-16 code units, no blanks (RFC 8785, for data whose numbers are
 * whole). `content`: what a sealed document holds.
 */
export function sealedText(content: unknown): string {
  return JSON.stringify(plain(content));
}

/** SHA-256 (hex) of the text that is sealed. */
export function sealOf(content: unknown): string {
  return createHash('sha256').update(sealedText(content)).digest('hex');
}

/**
 * A plan as a document to be read, kept and applied later: JSON, with a seal over everything in it, so that what is
 * applied is what was shown. Lone surrogates (bytes that are no UTF-8) stand as escapes.
 */
export function sealPlan(plan: Plan): string {
  const content = plain(plan);
  return `${JSON.stringify({ plan: 'thumbwright', format: 1, seal: sealOf(content), content }, null, 2)}\n`;
}
