import type { YamlText } from './yaml-scalar.ts';

/** A value to be written: what a key of a configuration file, or of a profile, can hold. */
export type YamlValue =
  | ({ readonly kind: 'scalar' } & YamlText)
  | { readonly kind: 'list'; readonly items: readonly YamlValue[] }
  | { readonly kind: 'map'; readonly members: readonly (readonly [string, YamlValue])[] };
