import type { CatalogWritten } from '../../vocabulary/shapes/catalog.ts';
import type { FileFormat, LearntFile } from '../contract.ts';

/** A system that a path or key names, with the text that names it. */
export interface NamedSystem {
  readonly system: string;
  readonly text: string;
}

/** The systems of a catalog by the texts that may name them in a path or key, longest first. */
export function systemTexts(catalog: CatalogWritten | undefined): readonly NamedSystem[] {
  return Object.entries(catalog?.systems ?? {})
    .map(([system, { folder }]) => ({ system, text: folder }))
    .sort((a, b) => b.text.length - a.text.length);
}

/** The system that a text names as a word of it: `systems/burdock.conf`, `burdock.engine`. */
export function systemIn(text: string, systems: readonly NamedSystem[]): NamedSystem | undefined {
  return systems.find(({ text: name }) =>
    new RegExp(`(^|[^\\p{L}\\p{N}])${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}($|[^\\p{L}\\p{N}])`, 'u').test(text),
  );
}

/** A path or key with the system's folder as a name of the template. Braces of its own cannot be one. */
export function withSystem(text: string, named: NamedSystem | undefined): string {
  return named === undefined ? text : text.replace(named.text, '{{system.folder}}');
}

/** An id for each path template: the file's own name, or its folder where the name is the system's. */
export function fileIds(
  formats: ReadonlyMap<string, FileFormat>,
  systems: readonly NamedSystem[],
): ReadonlyMap<string, LearntFile> {
  const byTemplate = new Map<string, LearntFile>();
  const found = new Map<string, LearntFile>();
  const taken = new Set<string>();
  for (const [path, format] of formats) {
    const template = withSystem(path, systemIn(path, systems));
    let file = byTemplate.get(template);
    if (file === undefined) {
      const stem = template.includes('{{') ? 'by-system' : (path.split('/').at(-1) ?? path).replace(/\.[^.]*$/, '');
      const base =
        stem
          .toLowerCase()
          .replace(/[^a-z0-9]+/g, '-')
          .replace(/^-+|-+$/g, '') || 'file';
      let id = base;
      for (let count = 2; taken.has(id); count++) id = `${base}-${count}`;
      taken.add(id);
      byTemplate.set(template, (file = { id, path: template, format }));
    }
    found.set(path, file);
  }
  return found;
}
