import { instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** With a television on the device's video output. */
export const tv: readonly SettingDefinition[] = [
  {
    id: 'tv.mode',
    type: {
      kind: 'text',
      pattern: '^(auto|none|[1-9][0-9]{2,4}x[1-9][0-9]{2,4}(@[1-9][0-9]{0,2}(\\.[0-9]{1,3})?)?)$',
      examples: ['auto', 'none', '1280x720@60'],
    },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description:
      'The picture sent to a television: what it asks for (auto), nothing at all (none), or width, height and rate.',
    words: ['tv mode', 'hdmi mode', 'output resolution', 'external display', 'hdmi resolution', 'video output', 'hdmi'],
    hazard: 'A mode that the television lacks leaves it black.',
    reads: 'picture on a television: {value}',
  },
  {
    id: 'tv.sound-output',
    type: { kind: 'word', of: ['auto', 'tv', 'device', 'both'] },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'Where sound comes out while a television is connected.',
    words: ['tv sound', 'audio output', 'hdmi audio', 'sound output', 'audio device', 'sound card'],
    reads: 'sound with a television: {value}',
  },
  {
    id: 'tv.border',
    type: { kind: 'text', examples: ['none', 'plain'] },
    scopes: instanceOnly,
    roles: ['player'],
    volatile: false,
    description: 'The decoration around the picture on a television, by a name that the dialect knows, or none.',
    words: ['tv border', 'hdmi border', 'tv bezel', 'external bezel', 'tv overlay'],
    reads: 'border on a television: {value}',
  },
  {
    id: 'tv.overscan',
    type: { kind: 'quantity', measure: 'percent', min: 0, max: 25 },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'How much of each edge of the picture is left free, for televisions that cut their edges off.',
    words: ['overscan', 'underscan', 'crop overscan', 'safe area', 'screen margin'],
    reads: 'edge left free on a television: {value}',
  },
];
