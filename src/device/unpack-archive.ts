import { gunzipSync } from 'node:zlib';
import { extract } from 'tar-stream';
import type { Headers } from 'tar-stream';
import { MemoryFiles } from '../files/memory.ts';
import { fetchedBounds } from './read-fetched.ts';

/** What an archive held. `left`: what was not taken, each with the reason; nothing of it is made visible yet. */
export type Unpacked =
  | { readonly kind: 'files'; readonly files: MemoryFiles; readonly left: readonly string[] }
  | { readonly kind: 'unreadable'; readonly why: string; readonly wayOut: string };

/** Most bytes of an archive, packed or not: the bound of a fetched folder, and room for headers and padding. */
export const archiveBound = fetchedBounds.all + (64 << 20);

const packAgain = 'Pack the folder thumbwright-fetch again, as .tar or .tar.gz; or name the folder itself.';

/**
 * Unpacks a tar archive (pax of POSIX.1-2017, also as GNU tar and busybox write it), gzipped or not, into memory, since
 * a stranger may have made it: absolute names and names with `..` are not taken, neither are links and devices, and the
 * bounds are those of a fetched folder. Folders above `thumbwright-fetch` fall away.
 */
export async function unpackArchive(packed: Uint8Array): Promise<Unpacked> {
  const bytes = unzipped(packed);
  if (!(bytes instanceof Uint8Array)) return bytes;
  const found = new Map<string, Uint8Array>();
  const left: string[] = [];
  let entries = 0;
  let taken = 0;
  const reader = extract();
  reader.end(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  try {
    for await (const entry of reader) {
      const { name, type, size = 0 } = entry.header;
      entries++;
      const path = name
        .split('/')
        .filter((part) => part !== '' && part !== '.')
        .join('/');
      const refused =
        entries > 2 * fetchedBounds.files || taken + size > fetchedBounds.all
          ? 'there is too much'
          : found.has(path)
            ? 'a second one of that name'
            : refusal(entry.header);
      if (refused !== undefined) left.push(`${name}: ${refused}`);
      if (refused !== undefined || type === 'directory') {
        entry.resume();
        continue;
      }
      const parts: Buffer[] = [];
      for await (const part of entry) parts.push(part);
      found.set(path, Buffer.concat(parts));
      taken += size;
    }
  } catch (error) {
    return {
      kind: 'unreadable',
      why: `it is no tar archive, or a damaged one (${reasonOf(error)})`,
      wayOut: packAgain,
    };
  }
  if (entries === 0) return { kind: 'unreadable', why: 'it holds nothing, or is no tar archive', wayOut: packAgain };
  for (const path of found.keys()) {
    const above = foldersOf(path).find((folder) => found.has(folder));
    if (above === undefined) continue;
    left.push(`${path}: a file has the name of its folder`);
    found.delete(path);
  }
  return { kind: 'files', files: new MemoryFiles(Object.fromEntries(fromTheTop(found))), left };
}

function refusal({ name, type, size = 0 }: Headers): string | undefined {
  if (name.startsWith('/') || name.split('/').includes('..')) return 'its name leads out of the archive';
  if (type === 'directory') return undefined;
  if (type === 'symlink' || type === 'link') return 'a link';
  if (type !== 'file' && type !== 'contiguous-file') return 'a special file';
  return size > fetchedBounds.events ? 'too large' : undefined;
}

function unzipped(packed: Uint8Array): Uint8Array | Unpacked {
  if (packed[0] === 0x50 && packed[1] === 0x4b)
    return {
      kind: 'unreadable',
      why: 'it is a zip archive, which fetch does not unpack',
      wayOut: 'Unpack it on the desktop, then name the folder thumbwright-fetch in it.',
    };
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) return packed;
  try {
    return gunzipSync(packed, { maxOutputLength: archiveBound });
  } catch (error) {
    return {
      kind: 'unreadable',
      why: `what is gzipped breaks off, or is larger than ${archiveBound >> 20} MiB (${reasonOf(error)})`,
      wayOut: packAgain,
    };
  }
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function foldersOf(path: string): readonly string[] {
  const parts = path.split('/');
  return parts.slice(1).map((_, index) => parts.slice(0, index + 1).join('/'));
}

/** By absolute path. What was packed from further up loses the folders above. */
function fromTheTop(found: ReadonlyMap<string, Uint8Array>): readonly (readonly [string, Uint8Array])[] {
  const tops = new Set([...found.keys()].map((path) => path.split('/').indexOf('thumbwright-fetch')));
  const [up = 0] = tops.size === 1 ? tops : [];
  return [...found].map(([path, bytes]) => [`/${path.split('/').slice(Math.max(0, up)).join('/')}`, bytes]);
}
