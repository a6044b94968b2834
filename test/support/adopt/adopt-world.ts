import type { MemoryFiles } from '../../../src/files/memory.ts';
import { hostPath, splitCardPath } from '../../../src/model/paths.ts';
import type { HostPath } from '../../../src/model/paths.ts';
import { openProject, profilePaths, runProfile } from '../../../src/pipeline.ts';
import type { Project } from '../../../src/pipeline.ts';
import { adoptProfile } from '../../../src/pipeline/adopt-profile.ts';
import type { AdoptOptions } from '../../../src/pipeline/adopt-profile.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';

export const cardFolder = hostPath('/card');

export function open(files: MemoryFiles): Project {
  const project = openProject(files, hostPath('/w')).value;
  if (project === undefined) throw new Error('No workspace.');
  return project;
}

export function profileOf(project: Project, name: string): HostPath {
  const found = profilePaths(project).find((profile) => profile.name === name);
  if (found === undefined) throw new Error(`No profile ${name}.`);
  return found.path;
}

/** Compiles a profile over a card, and writes the result there. Paths of the files that changed. */
export function writeCard(files: MemoryFiles, name: string, fromStock = false): readonly string[] {
  const project = open(files);
  const run = runProfile(project, profileOf(project, name), {
    card: fromStock ? undefined : { whole: cardFolder, parts: new Map() },
    newest: false,
  });
  if (run.built === undefined) throw new Error(`${name} cannot be compiled.`);
  return run.built.files.flatMap((file) => {
    const { part, path } = splitCardPath(file.path);
    const at = files.join(cardFolder, part, path);
    const before = files.read(at);
    const stood = before.kind === 'bytes' ? decodeBytes(before.bytes) : undefined;
    files.write(at, encodeText(file.text));
    // The base is the card without its passwords, which a build never shows.
    return stood === file.text || file.base?.text === file.text ? [] : [file.path];
  });
}

type Adopting = NonNullable<ReturnType<typeof adoptProfile>['value']>;

/** Adopts, with nothing written. */
export function adoptCard(files: MemoryFiles, name: string, options: Partial<AdoptOptions> = {}): Adopting {
  const project = open(files);
  const { value, findings } = adoptProfile(project, profileOf(project, name), {
    card: { whole: cardFolder, parts: new Map() },
    record: undefined,
    all: false,
    only: undefined,
    at: undefined,
    secretText: () => undefined,
    alternatives: false,
    notByHand: new Map(),
    ...options,
  });
  if (value === undefined) throw new Error(findings.map(({ detail }) => detail).join('\n'));
  return value;
}

/** Writes what was adopted into the person's files. */
export function keep(files: MemoryFiles, { told }: Adopting): void {
  for (const { path, text } of told.files) files.write(path, encodeText(text));
}
