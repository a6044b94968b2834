import { placeKey } from '../adopt/difference.ts';
import type { NotByHand } from '../adopt/wanted-of.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import { cardVersions } from './card-versions.ts';
import { cardReader, planWrite } from './plan-write.ts';
import { fetchedTrees } from './fetched-trees.ts';
import { privateKey, readSeen } from './private-store.ts';

/** What of a card differs from what we wrote by an update or by the frontend itself: the merge of a write tells. */
export async function notByHand(
  project: Project,
  parts: PreparedParts,
  folders: ReadonlyMap<string, HostPath>,
  record: CardRecord,
  secret: (name: string) => string | undefined,
): Promise<NotByHand> {
  const read = cardReader(project.files, folders);
  const found = await cardVersions(parts.resolved.instances, parts.dialects, (path) => {
    const text = read(path);
    return text.kind === 'text' ? text.source : undefined;
  });
  const versions = new Map(found.map((one) => [one.instance, one.found] as const));
  const seen = readSeen(project, record.card);
  const planned = planWrite(project.files, {
    parts,
    folders,
    card: record.card,
    record,
    mark: [],
    versions,
    fetched: await fetchedTrees(project, parts, versions),
    secret,
    key: privateKey(project) ?? '',
    takeProfile: false,
    stillPending: false,
    answers: new Map(),
    seen: (path) => seen.get(path),
  });
  const told = new Map<string, 'reset' | 'consumed'>();
  const byHand = new Set<string>();
  for (const key of planned.value.plan.files.flatMap(({ keys }) => keys)) {
    if (key.class === 'reset' || key.class === 'consumed') told.set(placeKey(key), key.class);
    else if (['changed-by-hand', 'both-changed', 'key-gone'].includes(key.class)) byHand.add(placeKey(key));
  }
  for (const place of byHand) told.delete(place);
  return told;
}
