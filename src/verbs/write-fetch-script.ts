import { fetchScript, isTellable, quoteForShell } from '../device/fetch-script.ts';
import type { FetchTarget } from '../device/fetch-script.ts';
import { pressOrderText, pressTestPositions } from '../device/press-order.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import { runProfile } from '../pipeline.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeResult } from './write-result.ts';

type Source = Pick<FetchTarget, 'device' | 'games' | 'folders'>;

/** Writes the script for a profile, or, where there is none yet, for the folders that were named. */
export function writeFetchScript(shell: Shell, args: readonly string[], options: Options, written: string): ExitStatus {
  if (!/\.sh$/.test(written)) {
    shell.say(
      `thumbwright: a script's name ends in .sh, so that the device's menu lists it.\nAs in:\n  --script bring.sh\n`,
    );
    return 2;
  }
  const seconds = text(options, 'seconds') ?? '60';
  if (!/^\d{1,3}$/.test(seconds)) {
    shell.say('thumbwright: --seconds wants a whole number up to 999.\n');
    return 2;
  }
  const paths = [...texts(options, 'folder'), ...texts(options, 'cores'), ...texts(options, 'games')];
  const odd = paths.find((path) => !isTellable(path) || path.split('/').includes('..'));
  if (odd !== undefined) {
    shell.say(
      `thumbwright: ${JSON.stringify(odd)} is no folder of a device as its own system names it.\nBegin with a slash, as in:\n  --folder /opt/sedge\n`,
    );
    return 2;
  }
  const [name] = args;
  const source =
    texts(options, 'folder').length === 0 && name !== undefined
      ? ofProfile(shell, name)
      : ofFolders(shell, name, options);
  if (typeof source === 'number') return source;
  const target: FetchTarget = {
    ...source,
    coreFolders: texts(options, 'cores'),
    pressTest: pressTestPositions,
    seconds: Number(seconds),
  };
  const path = shell.path(written);
  const order = shell.path(written.replace(/\.sh$/, '-press-order.txt'));
  const files = [
    { path, text: fetchScript(target) },
    ...(target.seconds === 0 ? [] : [{ path: order, text: pressOrderText(target.pressTest, target.seconds) }]),
  ];
  for (const file of files) if (!writeResult(shell, file.path, file.text)) return 3;
  const wrote = files.map((file) => shell.show(file.path));
  if (flag(options, 'json')) {
    const document = { thumbwright: version, document: 'fetch', wrote, runs: [], findings: [] };
    shell.out(`${JSON.stringify(document, undefined, 2)}\n`);
  } else shell.out(`${wrote.map((one) => `wrote ${one}\n`).join('')}${waysToRun(target, written)}`);
  return 0;
}

function ofProfile(shell: Shell, name: string): Source | ExitStatus {
  const chosen = chooseTargets(shell, [name]);
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  const resolved =
    profile === undefined
      ? undefined
      : runProfile(project, profile.path, { card: undefined, newest: false }).built?.compiled.resolved;
  if (resolved === undefined) {
    shell.say(
      `thumbwright: the profile ${JSON.stringify(name)} cannot be read to its end.\nSee what is wrong with it:\n  thumbwright check ${name}\n`,
    );
    return 1;
  }
  const { parts } = resolved.device;
  const onDevice = (path: CardPath): string | undefined => {
    const { part, path: inPart } = splitCardPath(path);
    const mount = parts.get(part)?.mountedAt;
    return mount === undefined ? undefined : [mount.replace(/\/+$/, ''), ...(inPart === '' ? [] : [inPart])].join('/');
  };
  const missing = new Set<string>();
  const folders = resolved.instances.flatMap(({ root }) => {
    const path = onDevice(root);
    const { part, path: inPart } = splitCardPath(root);
    if (path === undefined || !isTellable(path)) {
      missing.add(part);
      return [];
    }
    return [{ name: inPart === '' ? part : `${part}/${inPart}`, path }];
  });
  if (missing.size > 0 || folders.length === 0) {
    const why =
      missing.size > 0
        ? `the profile does not say where the device mounts ${[...missing].join(', ')}`
        : 'the profile has no frontends yet';
    shell.say(
      `thumbwright: ${why}, so that the script would not find their folders.\nAdd mounted-at: to the part, or name the folders yourself:\n  thumbwright fetch ${resolved.device.id} --script bring.sh --folder /opt/NAME\n`,
    );
    return 1;
  }
  return { device: resolved.device.id, games: parts.get('games')?.mountedAt, folders };
}

function ofFolders(shell: Shell, name: string | undefined, options: Options): Source | ExitStatus {
  const folders = texts(options, 'folder')
    .map((path) => path.replace(/\/+$/, ''))
    .filter((path) => path !== '');
  if (folders.length === 0 || (name !== undefined && !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(name))) {
    shell.say(
      'thumbwright: name a profile, or the folders of the frontends as the device names them.\nAs in:\n  thumbwright fetch fern --script bring.sh --folder /opt/NAME --games /media/games\n',
    );
    return 2;
  }
  return {
    device: name ?? 'device',
    games: text(options, 'games'),
    folders: folders.map((path) => ({ name: path.slice(1), path })),
  };
}

function waysToRun({ games, seconds }: FetchTarget, file: string): string {
  const name = file.replace(/^.*[/\\]/, '');
  return `
Print ${name.replace(/\.sh$/, '-press-order.txt')}, or open it on a phone: it says what to press, in ${seconds} seconds from the start of the script.
Then, whichever the device offers:
  Script menu   Copy ${name} into the folder whose files the device's menu lists as scripts or tools; start it there.
  Remote login  Copy it to ${games ?? 'the games part'} and run, on the device: sh ${shellWord(games === undefined ? name : `${games}/${name}`)}
                Many devices share one well-known password, so that anyone near can log in: switch remote login off
                again afterwards. Without taking the card out, all of it comes over in one file, packed on the device:
                cd ${games === undefined ? 'GAMES' : shellWord(games)} && tar -czf fetched.tar.gz thumbwright-fetch
  Share         Over a network share of the device, put it where its script menu looks; start it from that menu.
It writes to thumbwright-fetch on the games part and changes nothing else; it is finished when DONE.txt is there.
Games and the firmware of systems are protected by copyright: bring settings only, and give the folder to nobody.
Back at the desktop:
  thumbwright fetch CARD/thumbwright-fetch
`;
}

function shellWord(text: string): string {
  return /^[\w/.-]+$/.test(text) ? text : quoteForShell(text);
}
