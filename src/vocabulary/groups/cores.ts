import { everyScope } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** Which core runs a system, and the cores' own options. */
export const cores: readonly SettingDefinition[] = [
  {
    id: 'cores.choice',
    type: { kind: 'cores' },
    scopes: ['instance', 'system', 'game'],
    roles: ['player', 'menu'],
    volatile: false,
    description:
      'By game system: the cores that may run it, best first, each as core or instance/core. The first that this device has and can run is taken.',
    words: ['core choice', 'core', 'engine', 'default core', 'emulator', 'runner', 'launch with', 'backend'],
    hazard: 'Another core may be unable to read the states, and sometimes the saves, of the one before.',
    reads: 'core: {value}',
  },
  {
    id: 'cores.options',
    type: { kind: 'options' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: "By core: that core's own options, passed through as they are written.",
    words: ['core options', 'core option', 'option', 'variables', 'core settings'],
    reads: 'core option: {value}',
  },
];
