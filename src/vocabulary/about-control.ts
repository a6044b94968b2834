import type { SettingDefinition } from './types.ts';

/** Whether a setting is about a control of the device: a hotkey, or what plays an input or is held. */
export function isAboutControl({ type }: Pick<SettingDefinition, 'type'>): boolean {
  return type.kind === 'bind' || type.kind === 'control';
}
