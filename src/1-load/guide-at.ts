import { catalog, dialect, house, profile } from 'virtual:guides';
import type { Guide } from 'virtual:guides';
import type { FileKind } from './file-kind.ts';

const guides: Readonly<Record<FileKind, Guide>> = { profile, house, dialect, catalog };

export type { Guide };

/** The guide of a whole file. */
export function guideOf(kind: FileKind): Guide {
  return guides[kind];
}

/** Follows a reference to a shared part. */
export function settle(guide: Guide | undefined, root: Guide): Guide | undefined {
  const name = guide?.$ref?.replace('#/$defs/', '');
  return name === undefined ? guide : root.$defs?.[name];
}

/** The guide of a mapping's member. */
export function memberGuide(guide: Guide | undefined, name: string, root: Guide): Guide | undefined {
  if (guide === undefined) return undefined;
  const named =
    guide.properties !== undefined && Object.hasOwn(guide.properties, name) ? guide.properties[name] : undefined;
  return settle(named ?? guide.additionalProperties, root);
}

/** The guide of a list's items. */
export function itemGuide(guide: Guide | undefined, root: Guide): Guide | undefined {
  return settle(guide?.items, root);
}

/** Member names that a mapping knows. */
export function memberNames(guide: Guide | undefined): readonly string[] {
  return Object.keys(guide?.properties ?? {});
}

/** The guide at a path from the top of a file. */
export function guideAt(kind: FileKind, path: readonly (string | number)[]): Guide | undefined {
  const root = guides[kind];
  let at: Guide | undefined = root;
  for (const step of path) at = typeof step === 'number' ? itemGuide(at, root) : memberGuide(at, step, root);
  return at;
}
