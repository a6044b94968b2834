import { spellOut } from '../4-plan/spell-out.ts';
import { spellPieces } from '../4-plan/spell-pieces.ts';
import { writtenText } from '../4-plan/written-text.ts';
import { styleOf } from '../dialect/style-of.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { CardPath } from '../model/paths.ts';
import type { Piece, PlannedFile } from '../model/plan.ts';
import { sameText } from '../model/same-text.ts';
import { secretPlaceholder } from '../model/secret-placeholder.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { SyntaxName, Tree } from '../syntax/contract.ts';
import type { SourceText } from '../text/source-text.ts';

/** Where the value that names a secret was written, as far as that is known. */
export type SecretOrigin = (path: CardPath, name: string) => Pick<Finding, 'place' | 'setting' | 'instance'>;

type Find = (name: string) => string | undefined;

/**
 * Holds what a plan will write, with the texts of its secrets, against the same without them: each key must hold its
 * secret, and nothing else may be changed by it. Secrets that are not at hand are passed over: see `missingSecrets`.
 * `current`: what the card has. Errors, none of which holds a text: `secret-not-carried`, and `wifi-password-length`
 * where a network's key cannot be made.
 */
export function checkCarried(
  files: readonly PlannedFile[],
  current: (path: CardPath) => SourceText | undefined,
  find: Find,
  origin: SecretOrigin = () => ({}),
): readonly Finding[] {
  return files.flatMap((file): readonly Finding[] => {
    switch (file.act) {
      case 'change':
        return keyFindings(file, current(file.path), find, origin);
      case 'whole':
        return wholeFindings(file, find, origin);
      case 'nothing':
      case 'remove':
      case 'restore':
        return [];
    }
  });
}

function keyFindings(
  file: PlannedFile & { readonly act: 'change' },
  current: SourceText | undefined,
  find: Find,
  origin: SecretOrigin,
): readonly Finding[] {
  const known = file.changes.flatMap((change) =>
    change.op !== 'set' || change.secrets.length === 0 || change.secrets.some((name) => find(name) === undefined)
      ? []
      : [change],
  );
  if (known.length === 0) return [];
  const read = (text: string): Tree | undefined =>
    syntaxes[file.syntax].parse({ name: file.path, text }, styleOf(file.style)).tree;
  const made = writtenText(file, current, find, syntaxes).value;
  // What the syntax refuses is told where it is planned.
  const plain = writtenText(file, current, secretPlaceholder, syntaxes).value;
  if (made === undefined || plain === undefined) return [];
  const [tree, before] = [read(made), read(plain)];
  const lost = known.filter(
    ({ key, value, secrets }) => !sameText(tree?.get(key), spellOut(value, secrets, find) ?? value),
  );
  const keys = new Set(known.map(({ key }) => key));
  const others = (before?.keys() ?? []).some(
    ({ path }) => !keys.has(path) && !sameText(before?.get(path), tree?.get(path)),
  );
  const more = tree?.keys().length !== before?.keys().length;
  return (lost.length > 0 ? lost : others || more ? known : []).flatMap(({ key, secrets }) =>
    secrets.map((name) => refusal(file, name, `key ${key} of ${file.path}`, origin)),
  );
}

function wholeFindings(
  file: PlannedFile & { readonly act: 'whole' },
  find: Find,
  origin: SecretOrigin,
): readonly Finding[] {
  const { pieces, path } = file;
  const secrets = pieces.flatMap((piece) => {
    const text = piece.kind === 'text' ? undefined : find(piece.name);
    return piece.kind === 'text' || text === undefined ? [] : [{ piece, text }];
  });
  const keyless = secrets.flatMap(({ piece, text }) =>
    piece.kind === 'psk' && spellPieces([piece], () => text, syntaxes) === undefined ? [piece.name] : [],
  );
  if (keyless.length > 0)
    return [...new Set(keyless)].map((name) =>
      makeFinding('wifi-password-length', {
        detail: `${path} holds a key made from secret:${name}, and none can be made: the password of a Wi-Fi network has 8 to 63 bytes, or is a key of 64 hexadecimal digits, and its name has 1 to 32 bytes.`,
        wayOut: 'Look at the password that the router shows, and correct the value of the secret.',
        ...about(file, name, origin),
      }),
    );
  const real = spellPieces(pieces, find, syntaxes);
  if (real === undefined) return [];
  // The keys that are derived are hexadecimal digits, and stand in both.
  const plain = spellPieces(
    pieces.map((piece): Piece => {
      const text = piece.kind === 'psk' ? spellPieces([piece], find, syntaxes) : undefined;
      return text === undefined ? piece : { kind: 'text', text };
    }),
    secretPlaceholder,
    syntaxes,
  );
  if (plain === undefined || plain === real) return [];
  const plainly = secrets.flatMap(({ piece, text }) =>
    piece.kind === 'secret' ? [{ name: piece.name, escape: piece.escape, text }] : [],
  );
  const [first] = plainly;
  if (first === undefined) return [];
  const { escape } = first;
  const carried =
    escape === undefined || escape === 'keyfile'
      ? sameLines(plain, real) && plainly.every(({ text }) => fitsLine(text, escape))
      : sameKeys(plain, real, escape, plainly);
  const [blamed = first] = plainly.filter(({ text }) => !fitsLine(text, undefined));
  return carried ? [] : [refusal(file, blamed.name, path, origin)];
}

function refusal(file: PlannedFile, name: string, where: string, origin: SecretOrigin): Finding {
  const { place, ...rest } = about(file, name, origin);
  const from = file.keys.find(({ to }) => to.kind === 'secret' && to.names.includes(name))?.origin;
  const line = place !== undefined || from === undefined ? '' : ` (${from.file}, line ${from.line})`;
  return makeFinding('secret-not-carried', {
    detail: `secret:${name}${line} holds a character that ${where} cannot hold, so it would arrive there as something else.`,
    wayOut: 'Choose a password of letters, digits and punctuation, without line breaks and control characters.',
    ...(place === undefined ? {} : { place }),
    ...rest,
  });
}

function about(file: PlannedFile, name: string, origin: SecretOrigin): ReturnType<SecretOrigin> {
  const key = file.keys.find(({ to }) => to.kind === 'secret' && to.names.includes(name));
  return {
    ...(key === undefined ? {} : { setting: key.setting, instance: key.instance }),
    ...origin(file.path, name),
  };
}

/** A line of a format that is not known, or one that is written with escapes for all control characters but NUL. */
function fitsLine(text: string, writes: 'keyfile' | undefined): boolean {
  return writes === 'keyfile' ? !text.includes('\0') : !/[\0-\x1f\x7f\u2028\u2029]/.test(text);
}

/** Only lines that name a secret differ. */
function sameLines(plain: string, real: string): boolean {
  const lines = real.split('\n');
  const wanted = plain.split('\n');
  return lines.length === wanted.length && wanted.every((line, at) => line === lines[at] || line.includes('secret:'));
}

/** Each key holds the same, a secret's text put for its name. */
function sameKeys(
  plain: string,
  real: string,
  writes: SyntaxName,
  secrets: readonly { readonly name: string; readonly text: string }[],
): boolean {
  const read = (text: string): Tree | undefined => syntaxes[writes].parse({ name: '', text }, {}).tree;
  const before = read(plain);
  const after = read(real);
  if (before === undefined || after === undefined) return before === after;
  const keys = before.keys();
  if (keys.length !== after.keys().length) return false;
  const texts = new Map(secrets.map(({ name, text }) => [secretPlaceholder(name), text]));
  return keys.every(({ path }) => {
    const wanted = before.get(path);
    const held = after.get(path);
    if (wanted?.kind !== 'scalar' || held?.kind !== 'scalar') return JSON.stringify(wanted) === JSON.stringify(held);
    return held.text === wanted.text.replace(/<secret:[^<>]+>/g, (found) => texts.get(found) ?? found);
  });
}
