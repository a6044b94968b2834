import { settings } from './registry.ts';

/** What `refit: { pin }` may name: hotkeys by their action, inputs of the game's pad, and the hold control. */
export const pinnable: readonly string[] = [
  'hold',
  ...settings.flatMap(({ id, type }) => {
    if (type.kind === 'bind') return [id.replace(/^hotkeys\.bind\./, '')];
    return type.kind === 'control' && id.startsWith('pad.') ? [id] : [];
  }),
];
