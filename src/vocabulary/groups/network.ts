import { instanceOnly } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

/** Wi-Fi and what it opens. */
export const network: readonly SettingDefinition[] = [
  {
    id: 'network.networks',
    type: { kind: 'networks' },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description:
      'The Wi-Fi networks that the device joins, best first, each with its name and the name of the secret that holds its password.',
    words: ['ssid', 'wifi networks', 'wifi', 'wireless', 'wlan', 'network name', 'psk', 'access point'],
    hazard: 'The password lies readable on the card once it is written.',
    reads: 'Wi-Fi networks: {value}',
  },
  {
    id: 'network.country',
    type: { kind: 'text', pattern: '^[A-Z]{2}$', examples: ['DE', 'GB'] },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'The country whose radio rules the Wi-Fi keeps, as two capital letters (ISO 3166-1).',
    words: ['wifi country', 'country', 'regulatory domain', 'regdomain', 'country code'],
    hazard: 'With the wrong country some channels are missing, and the network may not be found.',
    reads: 'country of the Wi-Fi: {value}',
  },
  {
    id: 'network.remote-login',
    type: { kind: 'boolean' },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'Whether others on the network may log in to the device.',
    words: ['ssh', 'remote login', 'sshd', 'remote access', 'secure shell'],
    hazard: 'Many devices come with a password that everybody knows; change it before this is on.',
    reads: 'remote login: {value}',
  },
  {
    id: 'network.file-sharing',
    type: { kind: 'boolean' },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'Whether the card can be read and changed over the network.',
    words: ['file sharing', 'smb', 'network share', 'shares', 'ftp', 'file share', 'nfs'],
    hazard: 'Everybody on the network may be able to change or delete what is on the card.',
    reads: 'file sharing: {value}',
  },
  {
    id: 'network.host-name',
    type: { kind: 'text', pattern: '^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$', examples: ['fen'] },
    scopes: instanceOnly,
    roles: ['system'],
    volatile: false,
    description: 'The name by which the device is found on the network: letters, digits and hyphens.',
    words: ['hostname', 'host name', 'device name', 'machine name', 'computer name'],
    reads: 'name on the network: {value}',
  },
];
