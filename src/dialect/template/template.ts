/** A secret by its name; `text` is there only where it is to be written. Else `<secret:NAME>` is inserted. */
export interface SecretValue {
  readonly secret: string;
  readonly text?: string | undefined;
}

/** What a name of a template stands for. */
export type TemplateValue = string | boolean | SecretValue | readonly TemplateItem[];

/** One turn of an `each`: `this` and the members of it (`this.name`). */
export type TemplateItem = ReadonlyMap<string, Exclude<TemplateValue, readonly TemplateItem[]>>;

/** The names that a template may mention, and for each list the names within one turn of its `each`. */
export interface AllowedNames {
  readonly values: ReadonlySet<string>;
  readonly lists: ReadonlyMap<string, ReadonlySet<string>>;
}

/** Undefined: nothing is known by that name here. */
export type NameLookup = (name: string) => TemplateValue | undefined;

/** Where a secret that is only named is to stand in a text. */
export interface SecretPlace {
  readonly start: number;
  readonly end: number;
  readonly name: string;
  /** Set where not the secret, but the key derived from it and this network's name is to stand. */
  readonly network?: string;
}

export type Rendered =
  /** `secrets`: in order; absent where there are none. */
  | { readonly kind: 'text'; readonly text: string; readonly secrets?: readonly SecretPlace[] }
  /** A name that has no value here; `{{#if}}` alone may ask for such a one. */
  | { readonly kind: 'missing'; readonly name: string }
  /** A clause: what cannot be done. */
  | { readonly kind: 'cannot'; readonly why: string };

/** A checked template. It inserts, chooses and repeats; it can do nothing else. */
export interface Template {
  readonly text: string;
  /** Every name that it mentions, lists and their members (`list[].name`) included. */
  readonly names: ReadonlySet<string>;
  readonly nodes: readonly TemplateNode[];
  /** `escape` is the target syntax's, applied to each inserted value and to nothing else. */
  render(names: NameLookup, escape: (value: string) => string): Rendered;
}

export type TemplateNode =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'insert'; readonly name: string }
  /** The pre-shared key of a Wi-Fi network. */
  | { readonly kind: 'psk'; readonly password: string; readonly ssid: string }
  | {
      readonly kind: 'if';
      readonly name: string;
      readonly then: readonly TemplateNode[];
      readonly otherwise: readonly TemplateNode[];
    }
  | {
      readonly kind: 'each';
      readonly name: string;
      readonly body: readonly TemplateNode[];
      readonly otherwise: readonly TemplateNode[];
    };
