import { isMap, isScalar, parseAllDocuments } from 'yaml';
import type { Document as YamlDocument } from 'yaml';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { readSource } from './find-file.ts';

/** The private file of secrets in a workspace, as it is shown. */
export const secretsFile = '.thumbwright/private/secrets.yaml';

/** The values of secrets. They go into what is written onto a card, and into nothing that is shown or kept. */
export interface Secrets {
  find(name: string): string | undefined;
  /** Where the value was found; undefined: nowhere. */
  from(name: string): 'environment' | 'file' | 'given' | undefined;
  /** Names in the secrets file, for what is near a misspelt one. */
  readonly names: readonly string[];
  /** These secrets with values that the person was asked for; they go first. */
  with(given: ReadonlyMap<string, string>): Secrets;
}

/** The environment's name of a secret: `shelf-account` is THUMBWRIGHT_SECRET_SHELF_ACCOUNT. */
export function secretVariable(name: string): string {
  return `THUMBWRIGHT_SECRET_${name.toUpperCase().replace(/[^A-Z0-9]/g, '_')}`;
}

/** Where the secrets file of a workspace lies. `root`: the workspace's folder. */
export function secretsPath(files: Files, root: HostPath): HostPath {
  return files.join(root, ...secretsFile.split('/'));
}

/**
 * Secrets of a workspace: the environment's first, then those of `.thumbwright/private/secrets.yaml`, a mapping of names
 * to texts. An empty variable counts as none. Errors: `bad-secrets-file`, those of `readSource`; warning:
 * `secrets-file-open`. No finding has a place in the file, since places are shown with their lines.
 */
export function readSecrets(files: Files, root: HostPath, environment: ReadonlyMap<string, string>): Outcome<Secrets> {
  const path = secretsPath(files, root);
  if (files.kind(path) === undefined) return { value: new Found(environment, new Map(), new Map()), findings: [] };
  const findings: Finding[] = [];
  const mode = files.mode?.(path);
  if (mode !== undefined && (mode & 0o077) !== 0)
    findings.push(
      makeFinding('secrets-file-open', {
        detail: `${secretsFile} may be read by other people of this computer (mode ${(mode & 0o777).toString(8)}), and it holds passwords.`,
        wayOut: `Run: chmod 600 ${secretsFile}`,
      }),
    );
  const source = readSource(files, path, secretsFile);
  findings.push(...source.findings);
  const read = source.value === undefined ? undefined : readMapping(source.value.text);
  findings.push(...(read?.findings ?? []));
  return { value: new Found(environment, read?.value ?? new Map(), new Map()), findings };
}

/** An error for each name that has no value: nothing may be written then. Names in the order given. */
export function missingSecrets(secrets: Secrets, names: Iterable<string>): readonly Finding[] {
  return [...new Set(names)]
    .filter((name) => secrets.find(name) === undefined)
    .map((name) => {
      const near = nearestNames(name, secrets.names);
      return makeFinding('secret-missing', {
        detail: `secret:${name} is to be written onto the card, and its value is not known${near.length === 0 ? '' : `; ${secretsFile} has ${near.join(' and ')}`}.`,
        wayOut: `Set ${secretVariable(name)}, or write a line '${name}: VALUE' into ${secretsFile}.`,
      });
    });
}

class Found implements Secrets {
  private readonly environment: ReadonlyMap<string, string>;
  private readonly file: ReadonlyMap<string, string>;
  private readonly given: ReadonlyMap<string, string>;

  constructor(
    environment: ReadonlyMap<string, string>,
    file: ReadonlyMap<string, string>,
    given: ReadonlyMap<string, string>,
  ) {
    this.environment = environment;
    this.file = file;
    this.given = given;
  }

  get names(): readonly string[] {
    return [...this.file.keys()];
  }

  find(name: string): string | undefined {
    return this.given.get(name) ?? this.variable(name) ?? this.file.get(name);
  }

  from(name: string): 'environment' | 'file' | 'given' | undefined {
    if (this.given.has(name)) return 'given';
    if (this.variable(name) !== undefined) return 'environment';
    return this.file.has(name) ? 'file' : undefined;
  }

  with(given: ReadonlyMap<string, string>): Secrets {
    return new Found(this.environment, this.file, new Map([...this.given, ...given]));
  }

  private variable(name: string): string | undefined {
    const value = this.environment.get(secretVariable(name));
    return value === '' ? undefined : value;
  }
}

function bad(detail: string, wayOut: string): Finding {
  return makeFinding('bad-secrets-file', { detail: `${secretsFile}${detail}`, wayOut });
}

const asIn = `Write one name and one text on each line, as in: shelf-password: 'the password'`;

/** Texts are taken as they stand, so that a password of digits alone keeps its zeros. */
function readMapping(text: string): Outcome<ReadonlyMap<string, string>> {
  const found = new Map<string, string>();
  // Bytes that are no UTF-8 are kept as lone surrogates.
  if (/\p{Surrogate}/u.test(text))
    return { value: found, findings: [bad(' is not written in UTF-8.', 'Save it as UTF-8.')] };
  let documents: readonly YamlDocument[];
  try {
    const parsed = parseAllDocuments(text, {
      schema: 'failsafe',
      merge: false,
      prettyErrors: false,
      logLevel: 'silent',
    });
    documents = Array.isArray(parsed) ? parsed : [];
  } catch (error) {
    // The parser works by recursion: only nesting far beyond any mapping of texts gets here.
    if (!(error instanceof RangeError)) throw error;
    return { value: found, findings: [bad(' is nested too deeply to be read.', asIn)] };
  }
  const [document, second] = documents;
  const line = (offset: number): number => text.slice(0, offset).split('\n').length;
  const [error] = document?.errors ?? [];
  // The parser's own words quote the text; only the line is told.
  if (error !== undefined)
    return {
      value: found,
      findings: [bad(` cannot be read as YAML, at line ${line(error.pos[0])} or a little before it.`, asIn)],
    };
  if (second !== undefined)
    return { value: found, findings: [bad(' holds several documents.', 'Remove the --- lines.')] };
  const { contents } = document ?? {};
  if (contents === undefined || contents === null) return { value: found, findings: [] };
  if (!isMap(contents)) return { value: found, findings: [bad(' holds no mapping of names to texts.', asIn)] };
  const findings: Finding[] = [];
  for (const { key, value } of contents.items) {
    const at = line(isScalar(key) ? (key.range?.[0] ?? 0) : 0);
    const name = isScalar(key) ? String(key.value) : '';
    if (!/^[a-z0-9]+(?:-[a-z0-9]+)*$/.test(name)) {
      // What stands there may be a password itself: it is not repeated.
      findings.push(
        bad(
          `, line ${at}: what stands before the colon is no name of a secret.`,
          'Use small letters, digits and hyphens.',
        ),
      );
      continue;
    }
    if (isScalar(value) && typeof value.value === 'string' && value.value !== '') {
      found.set(name, value.value);
      continue;
    }
    const empty = value === null || value === undefined || isScalar(value);
    findings.push(
      bad(
        `, line ${at}: ${visible(name)} holds ${empty ? 'nothing' : 'something else than one text'}.`,
        `Write its value behind the colon, or remove the line.`,
      ),
    );
  }
  return { value: found, findings };
}
