import type { InabilityKind } from '../model/comparison.ts';
import type { Instance, ScopePoint } from '../model/resolved.ts';
import { pressedControls } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { Scope } from '../vocabulary/types.ts';
import type { Side } from './side.ts';

export type Expressed =
  { readonly kind: 'can' } | { readonly kind: 'cannot'; readonly inability: InabilityKind; readonly why: string };

/** What is to be said, and for what. */
export interface Asked {
  readonly setting: string;
  readonly item: string | undefined;
  readonly scope: ScopePoint;
  readonly value: Value;
}

/** What does nothing on a device without a network. */
const wantsNetwork = /^(network|achievements)\.|^artwork\.take$|^time\.from-network$/;

function isOff(value: Value): boolean {
  return (
    value.kind === 'none' ||
    (value.kind === 'boolean' && !value.is) ||
    (value.kind === 'word' && value.word === 'off') ||
    (value.kind === 'words' && value.words.length === 0)
  );
}

/** The controls that a value names. */
export function positionsOf(value: Value): readonly Position[] {
  if (value.kind === 'control') return [value.position];
  if (value.kind !== 'press') return [];
  return pressedControls(value.press);
}

function narrowest({ core, system, game }: ScopePoint): Scope {
  if (game !== undefined) return 'game';
  if (system !== undefined) return 'system';
  return core === undefined ? 'instance' : 'core';
}

const scopeWords: Readonly<Record<Scope, string>> = {
  instance: 'all games at once',
  core: 'one core',
  system: 'one system',
  game: 'one game',
};

/** Whether one instance of a side can hold a value, and why not: the first reason, from the device to the dialect. */
export function express(side: Side, instance: Instance, asked: Asked): Expressed {
  const { setting, item, scope, value } = asked;
  const { device } = side.resolved;
  const no = (inability: InabilityKind, why: string): Expressed => ({ kind: 'cannot', inability, why });
  const missing = positionsOf(value).filter((position) => !device.controls.controls.has(position));
  if (missing.length > 0) return no('no-control', `${device.name} has no ${missing.join(' and no ')}`);
  if (device.wifi === 'none' && wantsNetwork.test(setting) && !isOff(value))
    return no('no-wifi', `${device.name} has no Wi-Fi`);
  if (value.kind === 'core') return expressCore(side, instance, asked, value.core);
  const lens = side.lenses.get(instance.name);
  const { dialect } = instance.dialect.data;
  const scopes = lens?.scopes(setting) ?? [];
  if (lens === undefined || scopes.length === 0) return no('no-entry', `${dialect} has no entry for it`);
  // What is said for all is laid into narrower keys where the frontend has only those.
  if (!scopes.includes(narrowest(scope)))
    return narrowest(scope) === 'instance'
      ? { kind: 'can' }
      : no('no-entry', `${dialect} cannot say it for ${scopeWords[narrowest(scope)]}`);
  const spelled = lens.spell(setting, value, scope, item);
  if (spelled.kind === 'cannot') return no('no-spelling', spelled.why);
  return spelled.kind === 'approximated' ? no('only-near', spelled.how) : { kind: 'can' };
}

function expressCore(side: Side, instance: Instance, { setting, scope }: Asked, core: string): Expressed {
  const { system } = scope;
  if (system === undefined) return { kind: 'can' };
  const among = instance.roles.includes('player')
    ? [instance]
    : side.resolved.instances.filter(({ roles }) => roles.includes('player'));
  const reasons = among.map((player) => side.whyNoCore(core, system, player));
  if (reasons.length > 0 && reasons.every((why) => why !== undefined))
    return { kind: 'cannot', inability: 'no-core', why: [...new Set(reasons)].join('; ') };
  if ((side.lenses.get(instance.name)?.scopes(setting) ?? []).length > 0) return { kind: 'can' };
  return { kind: 'cannot', inability: 'no-entry', why: `${instance.dialect.data.dialect} has no entry for it` };
}
