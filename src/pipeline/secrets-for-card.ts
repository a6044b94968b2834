import { missingSecrets, readSecrets } from '../1-load/secrets.ts';
import { secretUses } from '../3-compile/secret-uses.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import { spellSecrets } from './spell-secrets.ts';

/**
 * The texts of the secrets that a profile puts on its card: from the environment, the private file, or asked for. Errors:
 * `secret-missing`, and what is wrong with a text where it is to stand.
 */
export async function secretsForCard(
  project: Project,
  parts: PreparedParts,
  environment: ReadonlyMap<string, string>,
  ask: ((name: string) => Promise<string | undefined>) | undefined,
): Promise<Outcome<(name: string) => string | undefined>> {
  const read = readSecrets(project.files, project.root, environment);
  const names = [...new Set(secretUses(parts.compiled).map(({ name }) => name))];
  const given = new Map<string, string>();
  for (const name of names) {
    if (ask === undefined || read.value.find(name) !== undefined) continue;
    const answer = await ask(name);
    if (answer !== undefined && answer !== '') given.set(name, answer);
  }
  const secrets = read.value.with(given);
  const find = (name: string): string | undefined => secrets.find(name);
  const missing = missingSecrets(secrets, names);
  const spelled = missing.length > 0 ? [] : spellSecrets(parts, find).findings;
  return { value: find, findings: [...read.findings, ...missing, ...spelled] };
}
