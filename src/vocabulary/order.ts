import { settings } from './registry.ts';

const places: ReadonlyMap<string, number> = new Map(settings.map(({ id }, at) => [id, at]));

/** Sorts by the order of the vocabulary; what is no setting of it (raw keys) comes first. */
export function byVocabulary(a: { readonly setting: string }, b: { readonly setting: string }): number {
  return (places.get(a.setting) ?? 0) - (places.get(b.setting) ?? 0);
}
