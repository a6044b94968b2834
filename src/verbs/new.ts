import { encodeText } from '../text/encoding.ts';
import { flag, text } from './contract.ts';
import type { VerbRun } from './contract.ts';
import { openProject } from '../pipeline.ts';
import { version } from './version.ts';
import { starterHouse, starterProfile } from './starter.ts';
import { draftFrom } from './draft-from.ts';
import { writeResult } from './write-result.ts';

/** Writes what is not there yet; never replaces a file. */
export const run: VerbRun = async (shell, args, options) => {
  const [name = ''] = args;
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(name)) {
    shell.say(
      `thumbwright: a profile's name has small letters, digits and hyphens, and names its folder in out/.\nAs in:\n  thumbwright new fern\n`,
    );
    return 2;
  }
  const house = text(options, 'house') ?? 'house';
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(house)) {
    shell.say("thumbwright: a house's name has small letters, digits and hyphens.\n");
    return 2;
  }
  const workspace = openProject(shell.files, shell.here).value;
  const { files } = shell;
  const from = text(options, 'from');
  const draft = from === undefined ? undefined : await draftFrom(shell, workspace, name, `${house}.yaml`, from);
  if (typeof draft === 'number') return draft;
  const folder = files.join(workspace?.root ?? shell.here, 'profiles');
  const wanted = [
    {
      path: files.join(folder, `${name}.yaml`),
      body: draft?.text ?? starterProfile(name, `${house}.yaml`),
      must: true,
    },
    { path: files.join(folder, `${house}.yaml`), body: starterHouse(house), must: false },
    ...(draft?.capture === undefined
      ? []
      : [{ path: files.join(folder, 'captures', `${name}.txt`), body: draft.capture, must: true }]),
  ];
  const there = wanted.find(({ path, must }) => must && files.kind(path) !== undefined);
  if (there !== undefined) {
    shell.say(
      `thumbwright: ${shell.show(there.path)} is there already, and is left alone.\nChoose another name, or edit it.\n`,
    );
    return 1;
  }
  const written: string[] = [];
  for (const { path, body, must } of wanted) {
    if (!must && files.kind(path) !== undefined) continue;
    if (!writeResult(shell, path, body)) return 3;
    written.push(shell.show(path));
  }
  if (workspace === undefined) {
    // The workspace begins here: `.thumbwright/` marks it.
    files.write(
      files.join(shell.here, '.thumbwright', 'README'),
      encodeText('This folder marks a thumbwright workspace and keeps its lock file. Commit it, without private/.\n'),
    );
    files.write(files.join(shell.here, '.thumbwright', '.gitignore'), encodeText('private/\n'));
  }
  if (flag(options, 'json'))
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'new', wrote: written, open: draft?.open ?? [] }, undefined, 2)}\n`,
    );
  else
    shell.out(
      `${written.map((path) => `wrote ${path}\n`).join('')}${(draft?.open ?? []).map((line) => `not placed: ${line}\n`).join('')}Read it from top to bottom and change what is yours, then run\n  thumbwright check\n`,
    );
  return 0;
};
