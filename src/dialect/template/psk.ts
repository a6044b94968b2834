import { pbkdf2Sync } from 'node:crypto';

/**
 * The 256-bit key of a WPA2-Personal network in hex: PBKDF2-HMAC-SHA1 of passphrase and network name, 4096 rounds
 * (IEEE 802.11-2016 J.4.1). Undefined when the standard has none: a passphrase is 8 to 63 octets, a name 1 to 32.
 * 64 hex digits are a key already.
 */
export function psk(passphrase: string, ssid: string): string | undefined {
  if (/^[0-9a-fA-F]{64}$/.test(passphrase)) return passphrase.toLowerCase();
  const secret = Buffer.from(passphrase, 'utf8');
  const name = Buffer.from(ssid, 'utf8');
  if (secret.length < 8 || secret.length > 63 || name.length < 1 || name.length > 32) return undefined;
  return pbkdf2Sync(secret, name, 4096, 32, 'sha1').toString('hex');
}
