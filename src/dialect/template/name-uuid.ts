import { createHash } from 'node:crypto';

/** The namespace of our own names: UUIDv5 of `thumbwright` in RFC 9562's namespace for URLs. */
const networks = 'c9ef7fa5-14a7-51e8-8ff2-3ad0d809607e';

/**
 * The UUIDv5 of a name (RFC 9562, section 5.5): the same name in the same namespace has always the same one. Written
 * here, since it is one hash and two marks.
 */
export function nameUuid(namespace: string, name: string): string {
  const bytes = createHash('sha1')
    .update(Buffer.from(namespace.replaceAll('-', ''), 'hex'))
    .update(name)
    .digest();
  bytes.writeUInt8(((bytes[6] ?? 0) & 0x0f) | 0x50, 6);
  bytes.writeUInt8(((bytes[8] ?? 0) & 0x3f) | 0x80, 8);
  const hex = bytes.toString('hex', 0, 16);
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** A network's own, the same at every build: by device and name. */
export function networkUuid(device: string, network: string): string {
  return nameUuid(networks, `${device}\n${network}`);
}
