/**
 * Made from schema/*.schema.json by test/tools/validators.mjs while bundling (ajv's stand-alone code, all errors).
 * Messages are left out: the loader writes its own from `keyword`, `instancePath` and `params`.
 */
declare module 'virtual:validators' {
  /** One thing that the schema does not allow. */
  export interface SchemaError {
    /** As in `type`, `enum`, `additionalProperties`, `required`, `minimum`. */
    readonly keyword: string;
    /** JSON Pointer (RFC 6901) of the value; of the object for `additionalProperties` and `required`. */
    readonly instancePath: string;
    /**
     * `{ type }` (a word or a list), `{ allowedValues }`, `{ additionalProperty }`, `{ missingProperty }`,
     * `{ limit, comparison }`, `{ pattern }`, `{ i, j }` for `uniqueItems`.
     */
    readonly params: Readonly<Record<string, unknown>>;
  }

  /** Whether the data is of the schema's shape; `errors` is of the last call, null when there are none. */
  export interface Validator {
    (data: unknown): boolean;
    readonly errors?: readonly SchemaError[] | null;
  }

  export const profile: Validator;
  export const house: Validator;
  export const dialect: Validator;
  export const catalog: Validator;
}
