import { readSecrets } from '../1-load/secrets.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { Project } from '../pipeline.ts';

/** The texts of secrets, where they are known: from the environment or the private file. */
export function knownSecrets(
  project: Project,
  environment: ReadonlyMap<string, string>,
): Outcome<(name: string) => string | undefined> {
  const read = readSecrets(project.files, project.root, environment);
  return { value: (name) => read.value.find(name), findings: read.findings };
}
