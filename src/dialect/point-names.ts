import type { Part } from '../model/device.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Context } from './contract.ts';
import { devicePath } from './codecs/path.ts';
import type { Renames } from './moved.ts';
import type { NameLookup, TemplateValue } from './template/template.ts';

/**
 * The names that hold at one scope point. In paths of the card (`card`) folders are `part:folder`; in texts that a
 * program on the device reads (`device`) they are where the device mounts them.
 */
export function pointNames(
  context: Context,
  renames: Renames,
  point: ScopePoint,
  manner: 'card' | 'device',
): NameLookup {
  const names = new Map<string, TemplateValue>([
    ['instance.name', context.instance],
    ['device.id', context.device.id],
    ['device.name', context.device.name],
  ]);
  const put = (name: string, value: string | undefined): void => {
    if (value !== undefined) names.set(name, value);
  };
  put('instance.bits', context.bits?.toString());
  const colon = context.root.indexOf(':');
  const part = context.parts.get(context.root.slice(0, colon));
  // A root on no part of the device is told where the path is made.
  put('root', manner === 'card' ? context.root : folder(part, context.root.slice(colon + 1), manner));
  for (const one of context.parts.values()) {
    if (!names.has('games-root') && one.gamesRoot !== undefined) put('games-root', folder(one, one.gamesRoot, manner));
    if (!names.has('firmware-root') && one.firmwareRoot !== undefined)
      put('firmware-root', folder(one, one.firmwareRoot, manner));
  }
  const { core, system, game } = point;
  if (system !== undefined) {
    const known = new Map(Object.entries(context.catalog?.systems ?? {})).get(system);
    put('system.id', system);
    put('system.name', known?.name ?? system);
    put('system.folder', known?.folder ?? system);
    put('system.frame-rate', known?.['frame-rate']?.toString());
  }
  if (core !== undefined) {
    put('core.id', renames.core(core));
    put('core.name', new Map(Object.entries(context.catalog?.cores ?? {})).get(core)?.name ?? core);
  }
  if (game !== undefined) {
    const name = game.slice(game.lastIndexOf('/') + 1);
    const dot = name.lastIndexOf('.');
    put('game.path', game);
    put('game.name', name);
    put('game.stem', dot > 0 ? name.slice(0, dot) : name);
  }
  return (name) => names.get(name);
}

function folder(part: Part | undefined, path: string, manner: 'card' | 'device'): string | undefined {
  if (part === undefined) return undefined;
  return manner === 'card' ? `${part.name}:${path}` : devicePath(part, path);
}
