/** A scalar of the YAML as its text; what is no scalar (the schema lets none through) as nothing. */
export function plainText(value: unknown): string {
  return typeof value === 'string'
    ? value
    : typeof value === 'number' || typeof value === 'boolean'
      ? String(value)
      : '';
}
