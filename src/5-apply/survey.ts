import type { Disk, DiskFailure, Ownership } from '../files/disk.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import { splitCardPath } from '../model/paths.ts';
import type { ApplyInput, Work } from './apply-input.ts';
import { resolveInside } from './resolve-inside.ts';
import { contentAt } from './steps.ts';
import type { TurnFolder } from './turn.ts';

/** A file that is to become another one, as it is found now. */
export interface Change {
  readonly path: CardPath;
  readonly part: string;
  readonly at: string;
  readonly before: Uint8Array | null;
  readonly after: Uint8Array | null;
  readonly had: Ownership;
  readonly gets: Ownership;
  readonly keys?: Work['keys'];
}

/** Why one file cannot be done as planned. */
export interface Refusal {
  readonly path: CardPath;
  readonly why: 'changed' | 'leaves' | 'blocked' | 'twice' | 'no-part';
}

export interface Survey {
  readonly changes: readonly Change[];
  readonly makes: readonly TurnFolder[];
  readonly refusals: readonly Refusal[];
  /** The parts' folders that are reached, links resolved. */
  readonly roots: ReadonlyMap<string, HostPath>;
}

/** The parts' folders with all links resolved; what is reached later is held against these. */
export function realRoots(
  disk: Disk,
  parts: ReadonlyMap<string, HostPath>,
  names: Iterable<string>,
): { readonly kind: 'roots'; readonly roots: ReadonlyMap<string, HostPath> } | DiskFailure {
  const roots = new Map<string, HostPath>();
  for (const name of new Set(names)) {
    const mounted = parts.get(name);
    if (mounted === undefined) continue;
    const real = disk.real(mounted);
    if (real.kind === 'failed') return real;
    roots.set(name, real.path);
  }
  return { kind: 'roots', roots };
}

function numberOf(owner: string | undefined): number | undefined {
  if (owner === undefined) return undefined;
  return owner === 'root' ? 0 : /^\d+$/.test(owner) ? Number(owner) : undefined;
}

/** A file that is there keeps what the plan says nothing of; a new one belongs to whom its folder does. */
function ownership(had: Ownership, work: Work): Ownership {
  const uid = numberOf(work.owner);
  return {
    ...had,
    ...(work.mode === undefined ? {} : { mode: work.mode }),
    ...(uid === undefined ? {} : { uid, gid: uid }),
  };
}

/** Looks at every file of a plan: what is to change, and what is no longer as the plan saw it. Writes nothing. */
export function survey({
  disk,
  parts,
  works,
  fingerprint,
}: Pick<ApplyInput, 'disk' | 'parts' | 'works' | 'fingerprint'>):
  { readonly kind: 'survey'; readonly survey: Survey } | DiskFailure {
  const found = realRoots(
    disk,
    parts,
    works.map(({ path }) => splitCardPath(path).part),
  );
  if (found.kind === 'failed') return found;
  const { roots } = found;
  const changes: Change[] = [];
  const refusals: Refusal[] = [];
  const makes = new Map<string, TurnFolder>();
  const seen = new Set<string>();
  for (const work of works) {
    const { path } = work;
    const { part, path: below } = splitCardPath(path);
    const root = roots.get(part);
    if (root === undefined) {
      refusals.push({ path, why: 'no-part' });
      continue;
    }
    const inside = resolveInside(disk, root, below);
    if (inside.kind === 'failed') return inside;
    if (inside.kind !== 'inside') {
      refusals.push({ path, why: inside.kind });
      continue;
    }
    const where = `${part}:${inside.at}`;
    if (seen.has(where)) {
      refusals.push({ path, why: 'twice' });
      continue;
    }
    seen.add(where);
    const content = contentAt(disk, disk.join(root, inside.at));
    if (content.kind === 'failed') return content;
    const before = content.bytes;
    const after = work.content ?? null;
    const asSeen =
      before === null || work.expected === undefined
        ? before === null && work.expected === undefined
        : fingerprint(before, work.expected.keyed) === work.expected.hash;
    if (!asSeen) {
      refusals.push({ path, why: 'changed' });
      continue;
    }
    if (before === null ? after === null : after !== null && Buffer.compare(before, after) === 0) continue;
    const { entry, folder } = inside;
    const had: Ownership = entry === undefined ? {} : { mode: entry.mode, uid: entry.uid, gid: entry.gid };
    changes.push({
      path,
      part,
      at: inside.at,
      before,
      after,
      had,
      gets: ownership(entry === undefined ? { uid: folder.uid, gid: folder.gid } : had, work),
      ...(work.keys === undefined ? {} : { keys: work.keys }),
    });
    for (const at of inside.missing) makes.set(`${part}:${at}`, { part, at });
  }
  return { kind: 'survey', survey: { changes, makes: [...makes.values()], refusals, roots } };
}
