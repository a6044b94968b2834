declare const cardBrand: unique symbol;
declare const hostBrand: unique symbol;

/** `part:folder/file` on a device's card: forward slashes, no `.`, `..`, empty or absolute member. */
export type CardPath = string & { readonly [cardBrand]: true };

/** A path on the machine that runs the tool. Never shown, never written into a file. */
export type HostPath = string & { readonly [hostBrand]: true };

/** Joins the members of a path template's result. Undefined when it would leave its part, or is not `part:path`. */
export function cardPath(text: string): CardPath | undefined {
  const colon = text.indexOf(':');
  if (colon <= 0) return undefined;
  const part = text.slice(0, colon);
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(part)) return undefined;
  const members = text.slice(colon + 1).split('/');
  if (members.length === 1 && members[0] === '') return brandCard(`${part}:`);
  for (const member of members) {
    if (member === '' || member === '.' || member === '..' || /[\\\0-\x1f\x7f:]/.test(member)) return undefined;
  }
  return brandCard(`${part}:${members.join('/')}`);
}

/** The part and the path in it. */
export function splitCardPath(path: CardPath): { readonly part: string; readonly path: string } {
  const colon = path.indexOf(':');
  return { part: path.slice(0, colon), path: path.slice(colon + 1) };
}

function brandCard(text: string): CardPath {
  return text as CardPath;
}

/** Marks a path of the machine; only the shell (files, cli) makes them. */
export function hostPath(text: string): HostPath {
  return text as HostPath;
}
