import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { Edit } from '../model/compiled.ts';
import type { Resolved } from '../model/resolved.ts';
import type { Lenses } from './compile.ts';

/** Raw keys: owned and merged like the rest, but spelled by the person. A file is named by its id in the dialect. */
export function compileExtra(resolved: Resolved, lenses: Lenses): Outcome<readonly Edit[]> {
  const edits: Edit[] = [];
  const findings: Finding[] = [];
  for (const extra of resolved.extra) {
    const { path, document } = extra.origin;
    const instance = resolved.instances.find(({ name }) => name === extra.instance);
    if (instance === undefined) {
      // Its dialect or root is told by itself.
      if (resolved.frontends.includes(extra.instance)) continue;
      const near = nearestNames(
        extra.instance,
        resolved.instances.map(({ name }) => name),
      );
      findings.push(
        makeFinding('unknown-frontend', {
          place: document.keyPlace(path.slice(0, -2)),
          detail: `extra: names ${extra.instance}, which is not among the frontends.`,
          wayOut:
            near.length > 0
              ? `Write ${near.join(' or ')}.`
              : `Write one of ${resolved.instances.map(({ name }) => name).join(', ')}.`,
        }),
      );
      continue;
    }
    const card = lenses.get(instance.name)?.path(extra.file, {});
    if (card === undefined) {
      const files = Object.keys(instance.dialect.data.files);
      findings.push(
        makeFinding('unknown-extra-file', {
          place: document.keyPlace(path.slice(0, -1)),
          instance: instance.name,
          detail: `The dialect of ${instance.name} has no file called ${extra.file} that is one file for the whole instance.`,
          wayOut: `Write ${nearestNames(extra.file, files)[0] ?? `one of ${files.join(', ')}`}.`,
        }),
      );
      continue;
    }
    edits.push({
      instance: instance.name,
      file: extra.file,
      path: card,
      key: extra.key,
      value: { kind: 'scalar', text: extra.text },
      setting: 'extra',
      scope: {},
      origin: extra.origin,
      rule: { name: 'extra', says: 'a raw key, written as it stands' },
    });
  }
  return { value: edits, findings };
}
