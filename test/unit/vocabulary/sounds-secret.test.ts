import { describe, expect, it } from 'vitest';
import { soundsSecret } from '../../../src/vocabulary/sounds-secret.ts';

describe('soundsSecret', () => {
  it.each([
    'password',
    '[account] passwd',
    'wifiPassword',
    'WIFI_PASS',
    '/account/api_key',
    'auth.token',
    'sessionToken',
    'wpa-psk',
    'net.passphrase',
    'Kennwort',
    'user_pin',
    'clientSecret',
  ])('takes %s for one', (key) => {
    expect(soundsSecret(key)).toBe(true);
  });

  it.each(['passes', 'bypass-filter', 'compass', 'pinned', 'spinning', 'tokenise-names', 'secretary', 'keep-place'])(
    'leaves %s alone',
    (key) => {
      expect(soundsSecret(key)).toBe(false);
    },
  );
});
