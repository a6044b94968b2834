import type { CardRecord, RecordedKey } from '../model/record.ts';
import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import { sameText } from '../model/same-text.ts';
import { placeKey } from './difference.ts';
import type { CardText } from './card-text.ts';

/** The keys by which one setting of one instance was last written. */
export interface OwnedPlace {
  readonly setting: string;
  readonly item: string | undefined;
  readonly instance: string;
  readonly scope: ScopePoint;
  readonly keys: readonly { readonly path: CardPath; readonly recorded: RecordedKey }[];
}

/** What a record says is ours, by setting and place. Raw keys and keys let alone are not asked for. */
export function ownedPlaces(record: CardRecord): ReadonlyMap<string, OwnedPlace> {
  const found = new Map<string, OwnedPlace & { keys: { path: CardPath; recorded: RecordedKey }[] }>();
  for (const { path, keys } of record.files) {
    for (const recorded of keys) {
      if (recorded.setting === 'extra' || recorded.answer?.kind === 'let-alone') continue;
      const place = {
        setting: recorded.setting,
        item: recorded.item,
        instance: recorded.instance,
        scope: recorded.scope,
      };
      const known = found.get(placeKey(place));
      if (known === undefined) found.set(placeKey(place), { ...place, keys: [{ path, recorded }] });
      else known.keys.push({ path, recorded });
    }
  }
  return found;
}

/** Whether the card holds what we wrote: then it is the profile that says something else now, and no hand. */
export function asWritten(owned: OwnedPlace, card: CardText): boolean {
  return owned.keys.every(({ path, recorded }) => {
    const { written, record, file } = recorded;
    const held =
      record === undefined
        ? card.look(path, recorded.key)
        : scalar(
            card
              .list(file, path, record.at, [record.by, record.field])
              .find(({ fields }) => fields.get(record.by) === record.is)
              ?.fields.get(record.field),
          );
    if (written.kind === 'absent') return held === undefined;
    return written.kind === 'text' && sameText(held, written.value);
  });
}

function scalar(text: string | undefined): { readonly kind: 'scalar'; readonly text: string } | undefined {
  return text === undefined ? undefined : { kind: 'scalar', text };
}
