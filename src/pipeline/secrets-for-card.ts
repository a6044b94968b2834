import { missingSecrets, readSecrets } from '../1-load/secrets.ts';
import { secretUses } from '../3-compile/secret-uses.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import { spellSecrets } from './spell-secrets.ts';

/** Somebody to ask for the text of a secret. */
type Ask = (name: string) => Promise<string | undefined>;

/**
 * The texts of secrets by their names: from the environment, the private file, or asked for. Error: `secret-missing`.
 */
export async function askedSecrets(
  project: Project,
  names: readonly string[],
  environment: ReadonlyMap<string, string>,
  ask: Ask | undefined,
): Promise<Outcome<(name: string) => string | undefined>> {
  const read = readSecrets(project.files, project.root, environment);
  const given = new Map<string, string>();
  for (const name of names) {
    if (ask === undefined || read.value.find(name) !== undefined) continue;
    const answer = await ask(name);
    if (answer !== undefined && answer !== '') given.set(name, answer);
  }
  const secrets = read.value.with(given);
  return {
    value: (name) => secrets.find(name),
    findings: [...read.findings, ...missingSecrets(secrets, names)],
  };
}

/** The texts of the secrets that a profile puts on its card. Errors: also what is wrong with a text where it is to stand. */
export async function secretsForCard(
  project: Project,
  parts: PreparedParts,
  environment: ReadonlyMap<string, string>,
  ask: Ask | undefined,
): Promise<Outcome<(name: string) => string | undefined>> {
  const names = [...new Set(secretUses(parts.compiled).map(({ name }) => name))];
  const asked = await askedSecrets(project, names, environment, ask);
  const missing = asked.findings.some(({ code }) => code === 'secret-missing');
  return {
    value: asked.value,
    findings: [...asked.findings, ...(missing ? [] : spellSecrets(parts, asked.value).findings)],
  };
}
