import { systemIn, withSystem } from '../copies/named-system.ts';
import type { NamedSystem } from '../copies/named-system.ts';
import type { FileFormat, LearntFile } from '../contract.ts';

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
