import type { LayerDocument } from '../model/document.ts';
import type { Instance, Resolved, ScopePoint, Selectors } from '../model/resolved.ts';
import type { ForWritten } from '../vocabulary/shapes/profile.ts';
import type { YamlPath } from '../yaml-edit/edit-yaml.ts';
import { settingPath } from './setting-path.ts';
import { valueAt } from '../model/value-at.ts';
import type { Wanted } from './wanted.ts';

/** A place in the person's YAML at which a value may be written. */
export interface Site {
  /** `set-there`: the line that set it; `top`: of a file; `block`: an `only` block; `new-block`: one to be made. */
  readonly kind: 'set-there' | 'top' | 'block' | 'new-block';
  readonly document: LayerDocument;
  /** Of the value; within a block that is to be made, from its top. */
  readonly path: YamlPath;
  /** What stands there now. */
  readonly written: unknown;
  /** Of a block that is to be made. */
  readonly selectors?: Selectors;
  /** For people and `--at`: `house.yaml`, `fen.yaml, only for frontend harrow-hall`. */
  readonly layer: string;
}

/** Whether a file may be written: a package is not the person's own. */
export type Writable = (document: LayerDocument) => boolean;

/**
 * Where the value of a setting may go, the default first: the line that set it, then the top of the profile, then the
 * `only` blocks that speak to all its places, narrowest first, then a block of its own in the profile. The top of each
 * lower layer stands last: only a person can know that it is meant for all that extend it.
 */
export function sitesFor(
  wanted: Wanted,
  layers: readonly LayerDocument[],
  resolved: Resolved,
  writable: Writable,
): readonly Site[] {
  const sites: Site[] = [];
  const seen = new Set<string>();
  const add = (site: Site): void => {
    const key = JSON.stringify([site.document.source.name, site.path, site.selectors]);
    if (seen.has(key) || !writable(site.document) || isBelowNull(site)) return;
    seen.add(key);
    sites.push(site);
  };
  const [first] = wanted.targets;
  const profile = layers.at(-1);
  if (first === undefined || profile === undefined) return [];
  const origin = first.decision?.origin;
  if (origin !== undefined) {
    const document = layers.find(({ source }) => source.name === origin.document.source.name);
    if (document !== undefined) {
      add({
        kind: 'set-there',
        document,
        path: origin.path,
        written: valueAt(document.data, origin.path),
        layer: layerName(document, origin.path),
      });
    }
  }
  const at = settingPath(wanted.setting, wanted.item, first.scope);
  if (at === undefined) return sites;
  const instances = wanted.targets.map(({ instance }) => instance);
  // What stands at the top speaks to every scope; a narrower place needs a block.
  const top = (document: LayerDocument): void => {
    if (Object.keys(at.rest).length > 0) return;
    add({
      kind: 'top',
      document,
      path: at.path,
      written: valueAt(document.data, at.path),
      layer: layerName(document, at.path),
    });
  };
  top(profile);
  for (const { document, index } of blocksFor(instances, at.rest, layers, resolved)) {
    const path = ['only', index, ...at.path];
    add({
      kind: 'block',
      document,
      path,
      written: valueAt(document.data, path),
      layer: layerName(document, path),
    });
  }
  const selectors = selectorsOf(instances, at.rest);
  add({
    kind: 'new-block',
    document: profile,
    path: at.path,
    written: undefined,
    selectors,
    layer: `${shortName(profile)}, only for ${selectorText(selectors)} (a new block)`,
  });
  for (const lower of layers.slice(0, -1)) top(lower);
  return sites;
}

/** A mapping on the way that is cleared as a whole cannot be given a member. */
function isBelowNull(site: Site): boolean {
  if (site.kind === 'new-block') return false;
  return site.path.some((_, k) => k > 0 && valueAt(site.document.data, site.path.slice(0, k)) === null);
}

function selectorsOf(instances: readonly string[], rest: ScopePoint): Selectors {
  const list = (value: string | undefined): readonly string[] | undefined =>
    value === undefined ? undefined : [value];
  const { core, system, game } = { core: list(rest.core), system: list(rest.system), game: list(rest.game) };
  return {
    frontend: [...new Set(instances)],
    ...(core === undefined ? {} : { core }),
    ...(system === undefined ? {} : { system }),
    ...(game === undefined ? {} : { game }),
  };
}

/** Blocks that speak to all the instances at a scope, in the order in which they win. */
function blocksFor(
  instances: readonly string[],
  scope: ScopePoint,
  layers: readonly LayerDocument[],
  resolved: Resolved,
): readonly { readonly document: LayerDocument; readonly index: number }[] {
  const found: { document: LayerDocument; index: number; rank: readonly number[] }[] = [];
  layers.forEach((document, layer) => {
    (document.data.only ?? []).forEach((block, index) => {
      const speaks = instances.every((name) => {
        const instance = resolved.instances.find((one) => one.name === name);
        return instance !== undefined && matchesFor(block.for, instance, scope);
      });
      if (speaks) found.push({ document, index, rank: [...rankOf(block.for), layer, index] });
    });
  });
  return found.sort((a, b) => {
    const at = a.rank.findIndex((value, k) => value !== b.rank[k]);
    return at < 0 ? 0 : (b.rank[at] ?? 0) - (a.rank[at] ?? 0);
  });
}

/** Narrowest selector, then their number: as the layers are ranked. */
function rankOf(selectors: ForWritten): readonly [number, number] {
  const names = ['frontend', 'core', 'system', 'game'] as const;
  const given = names.map((name) => selectors[name] !== undefined);
  return [given.lastIndexOf(true) + 1, given.filter(Boolean).length];
}

function matchesFor(selectors: ForWritten, instance: Instance, scope: ScopePoint): boolean {
  const frontends = listOf(selectors.frontend);
  if (frontends?.some((name) => name === instance.name || name === instance.dialect.data.dialect) === false)
    return false;
  return (['core', 'system', 'game'] as const).every((name) => {
    const given = listOf(selectors[name]);
    const own = scope[name];
    return given === undefined || (own !== undefined && given.includes(own));
  });
}

function listOf(value: string | readonly string[] | undefined): readonly string[] | undefined {
  return typeof value === 'string' ? [value] : value;
}

function shortName(document: LayerDocument): string {
  return document.source.name.replace(/^.*\//, '');
}

function layerName(document: LayerDocument, path: YamlPath): string {
  const [only, index] = path;
  const block = only === 'only' && typeof index === 'number' ? document.data.only?.[index] : undefined;
  if (block === undefined) return shortName(document);
  return `${shortName(document)}, only for ${selectorText(block.for)}`;
}

/** `frontend harrow-hall and system burdock`. */
function selectorText(selectors: Selectors | ForWritten): string {
  return (['frontend', 'core', 'system', 'game'] as const)
    .flatMap((name) => {
      const given = listOf(selectors[name]);
      return given === undefined ? [] : [`${name} ${given.join(' or ')}`];
    })
    .join(' and ');
}
