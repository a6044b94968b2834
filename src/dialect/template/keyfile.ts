/**
 * A text as a value of a key file (GLib's GKeyFile; the Desktop Entry Specification, "Possible value types"): `\s` for a
 * blank in front, `\n`, `\t`, `\r` and `\\`. All other characters stand for themselves, `;` and `#` too.
 */
export function escapeForKeyfile(text: string): string {
  const marks: Readonly<Record<string, string>> = { '\n': '\\n', '\t': '\\t', '\r': '\\r', '\\': '\\\\' };
  return text.replace(/[\n\t\r\\]/g, (mark) => marks[mark] ?? mark).replace(/^ /, '\\s');
}

/**
 * A network's name as `ssid` of a NetworkManager keyfile (nm-settings-keyfile(5)): plain text where every character is
 * printable ASCII and none is read otherwise, else the decimal numbers of its bytes, each ended by `;`.
 */
export function keyfileSsid(name: string): string {
  if (/^[!-:<-[\]-~](?:[ -:<-[\]-~]*[!-:<-[\]-~])?$/.test(name)) return name;
  return [...Buffer.from(name, 'utf8')].map((byte) => `${byte};`).join('');
}
