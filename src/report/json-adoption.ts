import type { Adoption, AdoptionLayer } from '../model/adoption.ts';

/** An adoption for `--json`: secrets by name alone. */
export function adoptionJson(adoption: Adoption): object {
  return {
    profile: adoption.profile,
    changes: adoption.changes.map((change) => ({
      setting: change.setting,
      ...(change.item === undefined ? {} : { item: change.item }),
      places: change.places,
      ...layerJson(change),
      line: change.line ?? null,
      extra: change.extra,
      alternatives: change.alternatives.map(layerJson),
    })),
    left: adoption.left.map(({ setting, item, instance, scope, why, wayOut }) => ({
      setting,
      ...(item === undefined ? {} : { item }),
      instance,
      scope,
      why,
      wayOut,
    })),
    missing: adoption.missing,
    remaining: adoption.remaining,
    unread: adoption.unread,
    secrets: adoption.secrets.map(({ name }) => name),
  };
}

function layerJson({ layer, file, before, after, others, profiles }: AdoptionLayer): object {
  return { layer, file, before: before ?? null, after: after ?? null, others, profiles };
}
