import { gunzipSync, gzipSync } from 'node:zlib';
import type { WriteResult } from '../files/contract.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import type { Project } from '../pipeline.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';
import { storePath } from './card-records.ts';

function privateFolder({ files, root }: Project): HostPath {
  return files.join(root, '.thumbwright', 'private');
}

/** The key by which texts that hold secrets are hashed; undefined before the first write. */
export function privateKey(project: Project): string | undefined {
  const read = project.files.read(project.files.join(privateFolder(project), 'key'), 4096);
  const key = read.kind === 'bytes' ? decodeBytes(read.bytes).trim() : '';
  return /^[0-9a-f]{32,}$/.test(key) ? key : undefined;
}

/** Keeps the key for its owner only, in a folder that git ignores. */
export function keepKey(project: Project, key: string): WriteResult {
  const { files } = project;
  const folder = privateFolder(project);
  const ignore = files.join(folder, '.gitignore');
  if (files.kind(ignore) === undefined) {
    const written = files.write(ignore, encodeText('*\n'));
    if (written.kind === 'failed') return written;
  }
  return privateKey(project) === key
    ? { kind: 'done' }
    : files.write(files.join(folder, 'key'), encodeText(`${key}\n`), 0o600);
}

const mostSeen = 64 * 1024 * 1024;

function unpacked(bytes: Uint8Array): string | undefined {
  try {
    return gunzipSync(bytes, { maxOutputLength: mostSeen }).toString('utf8');
  } catch {
    return undefined;
  }
}

/** The texts of a card's files as the last write left them. */
export function readSeen(project: Project, card: string): ReadonlyMap<CardPath, SourceText> {
  const { files } = project;
  const read = files.read(files.join(storePath(project, card), 'seen.json.gz'), mostSeen);
  const seen = new Map<CardPath, SourceText>();
  if (read.kind !== 'bytes') return seen;
  try {
    const data: unknown = JSON.parse(unpacked(read.bytes) ?? 'null');
    if (typeof data !== 'object' || data === null) return seen;
    for (const [name, text] of Object.entries(data)) {
      const path = cardPath(name);
      if (typeof text === 'string' && path !== undefined) seen.set(path, { name, text });
    }
  } catch {
    // It only tells what an update did: a damaged one is as good as none.
    return new Map();
  }
  return seen;
}

/** Keeps them, for their owner only: they may hold secrets. */
export function keepSeen(project: Project, card: string, texts: ReadonlyMap<CardPath, string>): WriteResult {
  const { files } = project;
  const sorted = Object.fromEntries([...texts].sort(([a], [b]) => (a < b ? -1 : 1)));
  const path = files.join(storePath(project, card), 'seen.json.gz');
  const text = JSON.stringify(sorted);
  const now = files.read(path, mostSeen);
  const kept = now.kind === 'bytes' ? unpacked(now.bytes) : undefined;
  return kept === text ? { kind: 'done' } : files.write(path, gzipSync(Buffer.from(text, 'utf8')), 0o600);
}
