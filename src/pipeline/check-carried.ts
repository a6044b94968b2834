import { styleOf } from '../dialect/style-of.ts';
import { writtenFormat } from '../dialect/written-format.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { BuiltFile, WholeFile } from '../model/compiled.ts';
import type { Decision, Resolved } from '../model/resolved.ts';
import { sameText } from '../model/same-text.ts';
import { secretPlaceholder } from '../model/secret-placeholder.ts';
import type { FileWritten } from '../vocabulary/shapes/dialect.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { SyntaxName, Tree } from '../syntax/contract.ts';

/**
 * Reads files back that were built with the texts of secrets: each key must hold its secret, and nothing else may have
 * changed by it. `shown`: the same files without the texts. Error: `secret-not-carried`, which holds no text.
 */
export function checkCarried(
  shown: readonly BuiltFile[],
  real: readonly BuiltFile[],
  resolved: Resolved,
  find: (name: string) => string | undefined,
): readonly Finding[] {
  const withoutTexts = new Map(shown.map((file) => [file.path, file]));
  return real.flatMap((file): readonly Finding[] => {
    const { whole } = file;
    if (whole !== undefined) {
      const plain = withoutTexts.get(file.path)?.whole;
      return plain === undefined ? [] : wholeFindings(plain, whole, writesOf(whole, resolved), find);
    }
    const secret = file.keys.filter(({ edit }) => edit.decision?.value.kind === 'secret');
    const [first] = secret;
    if (first === undefined) return [];
    const spec = specOf(first.edit.instance, first.edit.file, resolved);
    const tree =
      spec === undefined
        ? undefined
        : syntaxes[spec.syntax].parse({ name: file.path, text: file.text }, styleOf(spec.style)).tree;
    return secret.flatMap(({ edit }) => {
      const held = tree?.get(edit.key);
      const { decision } = edit;
      if (decision?.value.kind !== 'secret' || edit.value === undefined || sameText(held, edit.value)) return [];
      return [refusal(decision.value.name, decision, edit.instance, `key ${edit.key} of ${file.path}`)];
    });
  });
}

function specOf(instance: string, file: string, resolved: Resolved): FileWritten | undefined {
  return resolved.instances.find(({ name }) => name === instance)?.dialect.data.files[file];
}

function writesOf(whole: WholeFile, resolved: Resolved): SyntaxName | 'keyfile' | undefined {
  const spec = specOf(whole.instance, whole.file, resolved);
  return spec === undefined ? undefined : writtenFormat(spec);
}

function refusal(name: string, decision: Decision, instance: string, where: string): Finding {
  return makeFinding('secret-not-carried', {
    detail: `secret:${name} holds a character that ${where} cannot hold, so it would arrive there as something else.`,
    wayOut: 'Choose a password of letters, digits and punctuation, without line breaks and control characters.',
    place: decision.origin.place,
    setting: decision.setting,
    instance,
  });
}

/** The secrets that a value names. */
function namesIn({ value }: Decision): readonly string[] {
  if (value.kind === 'secret') return [value.name];
  return value.kind === 'networks' ? value.networks.flatMap(({ password }) => password ?? []) : [];
}

function wholeFindings(
  plain: WholeFile,
  real: WholeFile,
  writes: SyntaxName | 'keyfile' | undefined,
  find: (name: string) => string | undefined,
): readonly Finding[] {
  if (plain.text === real.text) return [];
  const culprits = real.decisions.flatMap((decision) =>
    namesIn(decision).flatMap((name) => {
      const text = find(name);
      return text === undefined ? [] : [{ decision, name, text }];
    }),
  );
  const carried =
    writes === undefined || writes === 'keyfile'
      ? sameLines(plain.text, real.text) &&
        !culprits.some(({ text }) => !fitsLine(text, writes) && real.text.includes(text))
      : sameKeys(plain.text, real.text, writes, culprits);
  const [blamed] = culprits.filter(({ text }) => !fitsLine(text, undefined)).concat(culprits);
  return carried || blamed === undefined ? [] : [refusal(blamed.name, blamed.decision, real.instance, real.path)];
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

/** Each key holds the same, a secret's text or the Wi-Fi key made from it put for its name. */
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
  return keys.every(({ path }) => {
    const wanted = before.get(path);
    const held = after.get(path);
    if (wanted?.kind !== 'scalar' || held?.kind !== 'scalar') return JSON.stringify(wanted) === JSON.stringify(held);
    let text = wanted.text;
    for (const secret of secrets) text = text.replaceAll(secretPlaceholder(secret.name), () => secret.text);
    return held.text === text || (wanted.text.includes('secret:') && /^[0-9a-f]{64}$/.test(held.text));
  });
}
