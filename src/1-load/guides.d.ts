/** Made from schema/*.schema.json by test/tools/guides.mjs while bundling. */
declare module 'virtual:guides' {
  /** A schema, narrowed to what reading needs. `says` is the schema's `x-thumbwright`. */
  export interface Guide {
    readonly type?: string | readonly string[];
    readonly enum?: readonly unknown[];
    readonly required?: readonly string[];
    readonly $ref?: string;
    readonly says?: string;
    readonly properties?: Readonly<Record<string, Guide>>;
    readonly additionalProperties?: Guide;
    readonly items?: Guide;
    readonly $defs?: Readonly<Record<string, Guide>>;
  }

  export const profile: Guide;
  export const house: Guide;
  export const dialect: Guide;
  export const catalog: Guide;
}
