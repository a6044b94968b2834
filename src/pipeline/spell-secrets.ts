import type { LoadedDialect } from '../1-load/load-dialect.ts';
import { compile } from '../3-compile/compile.ts';
import { secretUses } from '../3-compile/secret-uses.ts';
import type { SecretUse } from '../3-compile/secret-uses.ts';
import type { Lens } from '../dialect/contract.ts';
import { makeLens } from '../dialect/make-lens.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Compiled } from '../model/compiled.ts';
import type { Resolved } from '../model/resolved.ts';
import { contextOf } from './lens-context.ts';
import { syntaxes } from '../syntax/registry.ts';

/** A profile spelled with the texts of its secrets: for the card, and for nothing that is shown or kept. */
export interface SpelledSecrets {
  /**
   * Without an error among the findings, `edits[i]` and `wholeFiles[i]` are those of the profile without the texts: the
   * same file and key.
   */
  readonly compiled: Compiled;
  /** They read a card's secrets as the profile's when the texts are the same. */
  readonly lenses: ReadonlyMap<string, Lens>;
  readonly uses: readonly SecretUse[];
}

/**
 * Spells a profile once more, with the texts of its secrets. Findings never hold a text: `wifi-password-length` where a
 * Wi-Fi password is none. A secret without a text stays `<secret:NAME>`: see `missingSecrets` first.
 */
export function spellSecrets(
  parts: {
    readonly resolved: Resolved;
    readonly compiled: Compiled;
    readonly lenses: ReadonlyMap<string, Lens>;
    readonly dialects: ReadonlyMap<string, LoadedDialect>;
  },
  find: (name: string) => string | undefined,
): Outcome<SpelledSecrets> {
  const uses = secretUses(parts.compiled);
  if (uses.length === 0) return { value: { compiled: parts.compiled, lenses: parts.lenses, uses }, findings: [] };
  const findings = uses.flatMap((use) => passwordFindings(use, find(use.name)));
  const lenses = new Map<string, Lens>();
  for (const instance of parts.resolved.instances) {
    const dialect = parts.dialects.get(instance.name);
    if (dialect === undefined) continue;
    // Its findings were made when the profile was compiled; here they could quote a text.
    const lens = makeLens({ ...contextOf(parts.resolved, instance, dialect), secretValue: find }, syntaxes);
    lenses.set(instance.name, lens.value);
  }
  const { value: compiled } = compile(parts.resolved, lenses);
  if (!findings.some(({ grade }) => grade === 'error') && !paired(parts.compiled, compiled))
    throw new Error('Secrets changed which keys are written. This is a bug in thumbwright.');
  return { value: { compiled, lenses, uses }, findings };
}

function paired(a: Compiled, b: Compiled): boolean {
  return (
    a.edits.length === b.edits.length &&
    a.edits.every(({ path, key }, at) => path === b.edits[at]?.path && key === b.edits[at].key) &&
    a.wholeFiles.length === b.wholeFiles.length &&
    a.wholeFiles.every(({ path }, at) => path === b.wholeFiles[at]?.path)
  );
}

/** IEEE Std 802.11: a passphrase has 8 to 63 characters; 64 hexadecimal digits are the key itself. */
function passwordFindings(use: SecretUse, text: string | undefined): readonly Finding[] {
  if (use.network === undefined || text === undefined || /^[0-9a-fA-F]{64}$/.test(text)) return [];
  const octets = Buffer.byteLength(text);
  if (octets >= 8 && octets <= 63) return [];
  return [
    makeFinding('wifi-password-length', {
      detail: `secret:${use.name} is too ${octets < 8 ? 'short' : 'long'} for the password of a Wi-Fi network: one has 8 to 63 bytes, or is a key of 64 hexadecimal digits.`,
      wayOut: 'Look at the password that the router shows, and correct the value of the secret.',
      place: use.decision.origin.place,
      setting: use.setting,
      instance: use.instance,
    }),
  ];
}
