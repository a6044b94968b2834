import { readFetched } from '../device/read-fetched.ts';
import type { Project } from '../pipeline.ts';
import { draftProfile } from '../pipeline/draft-profile.ts';
import type { DraftProfile } from '../pipeline/draft-profile.ts';
import { fetchedCapture } from '../pipeline/fetched-capture.ts';
import { paint } from '../report/paint.ts';
import { findingText, sortFindings } from '../report/terminal/findings.ts';
import type { ExitStatus, Shell } from './contract.ts';

/** The profile that a fetched folder gives, with its capture file; an exit status where there is none. */
export async function draftFrom(
  shell: Shell,
  project: Project | undefined,
  name: string,
  house: string,
  from: string,
): Promise<(DraftProfile & { readonly capture: string | undefined }) | ExitStatus> {
  if (project === undefined) {
    shell.say(
      'thumbwright: --from wants a workspace, into which fetch has unpacked.\nTo begin one:\n  thumbwright new NAME\n',
    );
    return 2;
  }
  const folder = shell.path(from);
  const read = readFetched(shell.files, folder);
  const capture =
    read.value === undefined ? undefined : fetchedCapture(read.value, `${shell.show(folder)}/capture.txt`);
  const brush = paint(shell.colour.say);
  for (const finding of sortFindings([...read.findings, ...(capture?.findings ?? [])]))
    shell.say(`${findingText(finding, brush, shell.width)}\n`);
  if (read.value === undefined) return 1;
  const draft = await draftProfile(project, name, house, read.value, capture);
  return { ...draft, capture: capture?.capture === undefined ? undefined : capture.text };
}
