import type { LayerDocument, Path } from '../model/document.ts';
import type { Place } from '../text/place.ts';
import type { DeviceWritten, InstanceWritten } from '../vocabulary/shapes/profile.ts';

/** What the layers say of the device itself and its frontends, key by key, the highest layer winning. */
export interface Facts {
  readonly name: string | undefined;
  readonly device: DeviceWritten;
  readonly frontends: Readonly<Record<string, InstanceWritten>>;
  readonly catalog: string | undefined;
  /** The document whose word holds at a path (of a merged mapping: the highest that has it). */
  document(path: Path): LayerDocument;
  place(path: Path): Place;
  keyPlace(path: Path): Place;
}

type Json = unknown;

function isMapping(value: Json): value is Readonly<Record<string, Json>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Mappings merge key by key; a list or a scalar replaces; `null` clears. Neither side is changed. */
function mergeValues(lower: Json, upper: Json): Json {
  if (upper === undefined) return lower;
  if (!isMapping(upper)) return upper;
  const base = isMapping(lower) ? lower : {};
  const merged = new Map<string, Json>(Object.entries(base));
  for (const [key, value] of Object.entries(upper)) {
    if (value === null) merged.delete(key);
    else merged.set(key, mergeValues(merged.get(key), value));
  }
  return Object.fromEntries(merged);
}

function valueAt(data: Json, path: Path): Json {
  let at = data;
  for (const step of path) {
    if (Array.isArray(at)) at = typeof step === 'number' ? (at as readonly Json[])[step] : undefined;
    else if (isMapping(at)) at = Object.hasOwn(at, step) ? at[step] : undefined;
    else return undefined;
  }
  return at;
}

/** Layers lowest first; the last is the profile. */
export function mergeFacts(layers: readonly LayerDocument[]): Facts {
  let device: DeviceWritten = {};
  let frontends: Readonly<Record<string, InstanceWritten>> = {};
  let catalog: string | undefined;
  let name: string | undefined;
  for (const layer of layers) {
    // Merging two checked documents of one shape gives that shape.
    device = mergeValues(device, layer.data.device) as DeviceWritten;
    frontends = mergeValues(frontends, layer.data.frontends) as Readonly<Record<string, InstanceWritten>>;
    catalog = layer.data.catalog ?? catalog;
    name = layer.data.name ?? name;
  }
  const document = (path: Path): LayerDocument => {
    for (let steps = path.length; steps > 0; steps--) {
      const part = path.slice(0, steps);
      for (let k = layers.length - 1; k >= 0; k--) {
        const layer = layers[k];
        if (layer !== undefined && valueAt(layer.data, part) !== undefined) return layer;
      }
    }
    const top = layers.at(-1);
    if (top === undefined) throw new Error('A profile without layers. This is a bug in thumbwright.');
    return top;
  };
  return {
    name,
    device,
    frontends,
    catalog,
    document,
    place: (path) => document(path).place(path),
    keyPlace: (path) => document(path).keyPlace(path),
  };
}
