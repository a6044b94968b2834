/**
 * A network's name as `ssid` of wpa_supplicant.conf(5): in double quotes where every character is printable ASCII and
 * no quote or escape, else the hexadecimal digits of its bytes, which have no quotes.
 */
export function supplicantSsid(name: string): string {
  return /^[ !#-[\]-~]+$/.test(name) ? `"${name}"` : Buffer.from(name, 'utf8').toString('hex');
}
