import type { InputIdentity } from '../model/device.ts';

/** What a GUID says. `name`: the start of the device's name, where it stands instead of vendor, product and version. */
export type SdlGuid =
  | {
      readonly kind: 'numbers';
      readonly bus: number;
      readonly crc: number;
      readonly vendor: number;
      readonly product: number;
      readonly version: number;
      readonly driver: number;
      readonly data: number;
    }
  | { readonly kind: 'name'; readonly bus: number; readonly crc: number; readonly name: string };

/** CRC-16/ARC: polynomial 0x8005 reflected, start 0 (SDL_crc16.c; "123456789" gives bb3d). */
export function crc16(bytes: Uint8Array): number {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = (crc & 1) === 1 ? (crc >> 1) ^ 0xa001 : crc >> 1;
  }
  return crc;
}

/** Release families: from 2.26 there is a CRC, until 2.28 of the cleaned name, from 2.30 of the kernel's own. */
function eraOf(version: string): 'no-crc' | 'cleaned' | 'raw' {
  const [major = 0, minor = 0] = version.split('.').map((part) => Number.parseInt(part, 10) || 0);
  if (major >= 3 || minor >= 30) return 'raw';
  return minor >= 26 ? 'cleaned' : 'no-crc';
}

/**
 * A name as SDL 2.26 to 2.28 cleans it: outer blanks cut, runs of blanks made one, a repeated first word cut. (Prefixes of
 * some makers are cut too; they are not held here, so that for those a CRC is wrong. The mapping line carries none.)
 */
function cleanName(name: string): string {
  const bare = name.trim().replace(/ +/g, ' ');
  const [first = ''] = bare.split(' ');
  return bare.startsWith(`${first} ${first} `) ? bare.slice(first.length + 1) : bare;
}

/** The GUID that an SDL release gives an evdev input, 32 lower-case hexadecimal digits (SDL_joystick.c). */
export function sdlGuid({ bus, vendor, product, version, name }: InputIdentity, release: string): string {
  const era = eraOf(release);
  const used = new TextEncoder().encode(era === 'raw' ? name : cleanName(name));
  const bytes = new Uint8Array(16);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, bus, true);
  if (era !== 'no-crc') view.setUint16(2, crc16(used), true);
  if (vendor !== 0 && (product !== 0 || era === 'raw')) {
    view.setUint16(4, vendor, true);
    view.setUint16(8, product, true);
    view.setUint16(12, version, true);
  } else bytes.set(used.subarray(0, 11), 4);
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The same GUID without its CRC, which matches the device under every release. */
export function withoutCrc(guid: string): string {
  return `${guid.slice(0, 4)}0000${guid.slice(8)}`;
}

/** Takes a GUID apart (SDL_GetJoystickGUIDInfo); undefined when it is none. */
export function readSdlGuid(text: string): SdlGuid | undefined {
  if (!/^[0-9a-f]{32}$/i.test(text)) return undefined;
  const bytes = Uint8Array.from({ length: 16 }, (_, k) => Number.parseInt(text.slice(k * 2, k * 2 + 2), 16));
  const view = new DataView(bytes.buffer);
  const bus = view.getUint16(0, true);
  const crc = view.getUint16(2, true);
  if (view.getUint16(6, true) === 0 && view.getUint16(10, true) === 0) {
    const [vendor, product, version] = [view.getUint16(4, true), view.getUint16(8, true), view.getUint16(12, true)];
    return { kind: 'numbers', bus, crc, vendor, product, version, driver: view.getUint8(14), data: view.getUint8(15) };
  }
  const end = bytes.indexOf(0, 4);
  return { kind: 'name', bus, crc, name: new TextDecoder().decode(bytes.subarray(4, end < 0 ? 16 : end)) };
}
