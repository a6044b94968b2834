import { MemoryFiles } from '../../src/files/memory.ts';
import { hostPath } from '../../src/model/paths.ts';
import { openProject, profilePaths, runProfile } from '../../src/pipeline.ts';
import type { ProfileRun } from '../../src/pipeline.ts';
import type { Built } from '../../src/model/compiled.ts';
import { readFolder } from './world.ts';

let cached: Readonly<Record<string, Uint8Array>> | undefined;

/** The demo in memory at `/w`; `change` may give other texts for some of its files (paths from the root, `profiles/…`). */
export function demoFiles(change: Readonly<Record<string, (text: string) => string>> = {}): MemoryFiles {
  cached ??= readFolder('profiles');
  const files: Record<string, Uint8Array> = { '/w/package.json': Buffer.from('{}') };
  for (const [path, bytes] of Object.entries(cached)) {
    const edit = change[`profiles/${path}`];
    files[`/w/profiles/${path}`] = edit === undefined ? bytes : Buffer.from(edit(Buffer.from(bytes).toString()));
  }
  return new MemoryFiles(files);
}

export interface DemoRun extends ProfileRun {
  readonly built: Built;
}

/** Every profile of the demo, compiled. */
export function runDemo(files: MemoryFiles = demoFiles()): readonly DemoRun[] {
  const project = openProject(files, hostPath('/w')).value;
  if (project === undefined) throw new Error('The demo is no workspace.');
  return profilePaths(project).map(({ path, name }) => {
    const run = runProfile(project, path, { card: undefined, newest: false });
    if (run.built === undefined)
      throw new Error(`${name} cannot be compiled: ${JSON.stringify(run.findings.map((finding) => finding.detail))}`);
    return { ...run, built: run.built };
  });
}
