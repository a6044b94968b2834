/** A schema as the text of its file, the same on every run: members in the order in which they are made. */
export function schemaText(schema: object): string {
  return `${JSON.stringify(schema, undefined, 1)}\n`;
}
