import { visible } from '../diagnostics/visible.ts';
import type { Device } from '../model/resolved.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardFolders } from '../pipeline.ts';
import { givenParts } from '../pipeline/given-parts.ts';
import type { Shell } from './contract.ts';

/** The folders of a device's parts that were given; undefined where none is, or one is no part of it: that is said. */
export function partsGiven(
  shell: Shell,
  command: string,
  device: Pick<Device, 'id' | 'parts'>,
  card: CardFolders,
): ReadonlyMap<string, HostPath> | undefined {
  const names = [...device.parts.keys()];
  const { folders, unknown } = givenParts(shell.files, names, card);
  if (unknown.length === 0 && folders.size > 0) return folders;
  const wrong =
    unknown.length > 0
      ? `${device.id} has no part called ${unknown.map((name) => visible(name)).join(', ')}`
      : `no part of ${device.id} is below the folder that was given`;
  shell.say(
    `thumbwright: ${wrong}.\nIts parts are ${names.join(' and ')}. As in:\n  thumbwright ${command} ${names.map((name) => `--card ${name}=DIR`).join(' ')}\n`,
  );
  return undefined;
}
