import type { HostPath } from './paths.ts';
import type { ScopePoint } from './resolved.ts';

/** One setting of one instance. */
export interface SettingPlace {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
}

/** Where in the person's YAML something is written, and what else that reaches. */
export interface AdoptionLayer {
  /** `house.yaml`, `fen.yaml, only for frontend harrow-hall`. */
  readonly layer: string;
  /** Relative to the workspace. */
  readonly file: string;
  /** In YAML, on one line; undefined: not there. */
  readonly before: string | undefined;
  readonly after: string | undefined;
  /** What gets another value with it; `agrees`: the card has it so already. */
  readonly others: readonly (SettingPlace & { readonly agrees: boolean })[];
  /** Other profiles that take their value from the same line. */
  readonly profiles: readonly string[];
}

/** One thing carried from the card into the YAML. */
export interface AdoptionChange extends AdoptionLayer {
  readonly setting: string;
  readonly item?: string;
  /** Where the card has it. */
  readonly places: readonly SettingPlace[];
  /** In the new text, from 1; undefined where it is taken out. */
  readonly line: number | undefined;
  /** Raw keys that say what no setting says: instance, file, key, text. */
  readonly extra: readonly {
    readonly instance: string;
    readonly file: string;
    readonly key: string;
    readonly text: string;
  }[];
  /** Other layers at which it would win as well. */
  readonly alternatives: readonly AdoptionLayer[];
}

/** What a card would have a profile say. A secret is told by its name alone. */
export interface Adoption {
  readonly profile: string;
  readonly changes: readonly AdoptionChange[];
  readonly left: readonly (SettingPlace & { readonly why: string; readonly wayOut: string; readonly set: boolean })[];
  /** Set by the profile and not on the card. */
  readonly missing: readonly SettingPlace[];
  /** What compiling the new profile would still change on the card. */
  readonly remaining: readonly SettingPlace[];
  /** Files of the card that stay out of the profile. */
  readonly unread: readonly { readonly path: string; readonly why: string; readonly wayOut: string }[];
  readonly files: readonly { readonly path: HostPath; readonly name: string; readonly text: string }[];
  /** Texts for the private file: never shown. */
  readonly secrets: readonly { readonly name: string; readonly text: string }[];
}
