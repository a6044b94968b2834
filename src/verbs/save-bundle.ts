import { makeBundle } from '../pipeline/make-bundle.ts';
import { keepPending } from '../pipeline/pending-record.ts';
import { keepKey } from '../pipeline/private-store.ts';
import type { PreparedParts } from '../pipeline.ts';
import { planJson } from '../report/json-plan.ts';
import type { PlanShown } from '../report/json-plan.ts';
import { count } from '../report/wrap.ts';
import { agreed } from './agreed.ts';
import { shellQuoted } from './card-place.ts';
import { flag } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import type { OpenCard } from './open-card.ts';
import { stopWrite } from './stop-write.ts';
import { version } from './version.ts';

/** Makes of what was shown a script that does it on the device; the card here is only read. */
export async function saveBundle(
  shell: Shell,
  options: Options,
  wanted: PlanShown,
  file: string,
  opened: Pick<OpenCard, 'project' | 'place' | 'record'>,
  made: {
    readonly key: string;
    readonly secret: (name: string) => string | undefined;
    readonly parts: PreparedParts;
  },
): Promise<ExitStatus> {
  const { project, place } = opened;
  if (!/\.sh$/.test(file)) {
    shell.say(
      "thumbwright: a bundle's name ends in .sh, so that the device's menu lists it.\nAs in:\n  --bundle fen-bundle.sh\n",
    );
    return 2;
  }
  // Nothing is written now: only what could cost saves is asked about.
  if (
    !(await agreed(
      shell,
      { ...options, yes: true },
      wanted.plan,
      `${place.commands.write} --bundle ${shellQuoted(file)}`,
    ))
  )
    return 1;
  const { value, findings } = makeBundle(
    project.files,
    { plan: wanted.plan, place, secret: made.secret, key: made.key },
    made.parts,
  );
  if (value === undefined) return stopWrite(shell, options, findings);
  const json = flag(options, 'json');
  const shown = (wrote: string | undefined): string =>
    `${JSON.stringify({ ...planJson(version, wanted, [], findings), ...(wrote === undefined ? {} : { bundle: wrote }) }, undefined, 2)}\n`;
  switch (value.kind) {
    case 'unmounted':
      shell.say(
        `thumbwright: the profile does not say where the device mounts ${value.parts.join(' and ')}, so that a script would not find it.\nAdd it to the part, under device: parts: in the profile:\n  mounted-at: /opt/NAME\n`,
      );
      return 1;
    case 'nothing':
      if (json) shell.out(shown(undefined));
      else shell.out('No bundle is needed.\n');
      return 0;
    case 'made': {
      const path = shell.path(file);
      const { bundle, record } = value;
      const kept = keepKey(project, made.key);
      // The bundle first: what is said to be pending must be there.
      const steps = [
        (): ReturnType<typeof keepKey> => kept,
        () => shell.files.write(path, bundle.script, 0o600),
        () => keepPending(project, opened.record, record),
      ];
      for (const step of steps) {
        const result = step();
        if (result.kind === 'done') continue;
        shell.say(
          `thumbwright: ${shell.show(path)}, or the record beside the profiles, cannot be written: ${result.why}.\nThe device is as it was. Make room there, then run the same command again.\n`,
        );
        return 3;
      }
      if (json) {
        shell.out(shown(shell.show(path)));
        return 0;
      }
      const games = made.parts.resolved.device.parts.get('games')?.mountedAt ?? 'the games part';
      const name = file.replace(/^.*[/\\]/, '');
      const log = `thumbwright-bundle/${bundle.seal.slice(0, 16)}.txt`;
      shell.out(`${shell.show(path)} puts ${count(value.files.length, 'file')} in place on the device. It holds their texts, passwords included, in plain text:
show it to nobody, switch network shares of the device off while it lies there, and remove it afterwards.
Copy it to ${games}; close the frontends; then, whichever the device offers:
  Script menu   Start ${name} from the menu that lists scripts; ${name.replace(/\.sh$/, '-undo.sh')}, which it leaves beside itself, takes it back.
  Remote login  sh ${shellQuoted(`${games}/${name}`)}, and the same with the word undo takes it back.
Of ${count(bundle.byLine.length, 'file')} it checks our own lines only; ${value.files.length - bundle.byLine.length === 1 ? 'the other must' : 'the others must'} be as they were read, or nothing is written.
It leaves a log in ${games}/${log}.
Until it is known to be done, the record says pending. Bring the log, or the files anew:
  thumbwright fetch CARD/${log}
  thumbwright fetch CARD/thumbwright-fetch
`);
      return 0;
    }
  }
}
