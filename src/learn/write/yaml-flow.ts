/** A value of a dialect, as plain data. */
export type Plain = string | number | boolean | readonly Plain[] | { readonly [name: string]: Plain | undefined };

/** What YAML 1.2 reads as something else than a string, or 1.1 did. */
const notText = /^(true|false|null|yes|no|on|off|y|n|~|[-+.]?[0-9].*)$/i;

/** A string as a YAML scalar: plain where nothing can be mistaken, else as JSON has it (YAML 1.2.2, section 1.3). */
function scalar(text: string): string {
  return /^[A-Za-z/][\w./-]*( [\w./-]+)*$/.test(text) && !notText.test(text) ? text : JSON.stringify(text);
}

function name(text: string): string {
  return /^[A-Za-z][\w-]*(\.[\w-]+)*$/.test(text) ? text : JSON.stringify(text);
}

function isList(value: Plain): value is readonly Plain[] {
  return Array.isArray(value);
}

/** Plain data on one line, in YAML's flow style. */
export function yamlFlow(value: Plain): string {
  if (typeof value === 'string') return scalar(value);
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (isList(value)) return `[${value.map(yamlFlow).join(', ')}]`;
  const members = Object.entries(value).flatMap(([key, member]) =>
    member === undefined ? [] : [`${name(key)}: ${yamlFlow(member)}`],
  );
  return members.length === 0 ? '{}' : `{ ${members.join(', ')} }`;
}
