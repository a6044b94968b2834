import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { nearestNames } from '../../diagnostics/nearest.ts';
import type { Rule } from '../contract.ts';

/** Names of frontends, cores and systems that nothing defines: in selectors, in `cores.choice` and in `frontends`. */
export const knownNames: Rule = {
  name: 'known-names',
  codes: ['unknown-frontend', 'unknown-core', 'unknown-system'],
  check({ resolved }) {
    const findings: Finding[] = [];
    const catalog = resolved.catalog?.data;
    const frontends = [
      ...new Set([...resolved.frontends, ...resolved.instances.map((instance) => instance.dialect.data.dialect)]),
    ];
    const systems = Object.keys(catalog?.systems ?? {});
    const installed = resolved.instances.flatMap((instance) => [...(instance.cores?.keys() ?? [])]);
    const cores = [...new Set([...Object.keys(catalog?.cores ?? {}), ...installed])];
    const told = new Set<string>();
    const tell = (
      code: 'unknown-frontend' | 'unknown-core' | 'unknown-system',
      name: string,
      known: readonly string[],
      place: Finding['place'],
      what: string,
    ): void => {
      if (place === undefined || known.includes(name)) return;
      const key = `${code} ${name} ${place.source.name} ${place.span.start}`;
      if (told.has(key)) return;
      told.add(key);
      const near = nearestNames(name, known);
      const [best] = near;
      findings.push(
        makeFinding(code, {
          place,
          detail: `${what} ${JSON.stringify(name)}, which ${code === 'unknown-frontend' ? 'is neither an instance nor a dialect of this profile' : 'the catalog does not list'}.`,
          wayOut:
            best === undefined
              ? known.length === 0
                ? 'Remove the name.'
                : `Write one of ${known.slice(0, 12).join(', ')}.`
              : `Write ${near.join(' or ')}.`,
          ...(best === undefined || place.source.text.slice(place.span.start, place.span.end) !== name
            ? {}
            : {
                mend: {
                  grade: near.length === 1 ? 'certain' : 'likely',
                  source: place.source,
                  edits: [{ span: place.span, text: best }],
                },
              }),
        }),
      );
    };

    for (const layer of resolved.layers) {
      (layer.data.only ?? []).forEach((block, index) => {
        const each = (
          member: 'frontend' | 'core' | 'system',
          known: readonly string[],
          code: 'unknown-frontend' | 'unknown-core' | 'unknown-system',
        ): void => {
          const wanted = block.for[member];
          if (wanted === undefined) return;
          if (typeof wanted === 'string')
            tell(code, wanted, known, layer.place(['only', index, 'for', member]), 'This block is for');
          else
            wanted.forEach((name, k) =>
              tell(code, name, known, layer.place(['only', index, 'for', member, k]), 'This block is for'),
            );
        };
        // A house serves several devices: a frontend that this one does not have is no mistake there.
        if (layer === resolved.profile) each('frontend', frontends, 'unknown-frontend');
        if (catalog !== undefined) {
          each('system', systems, 'unknown-system');
          each('core', cores, 'unknown-core');
        }
      });
    }
    if (catalog === undefined) return findings;
    for (const candidate of resolved.candidates) {
      const { system, core } = candidate.implied;
      const { document, path } = candidate.origin;
      if (candidate.setting === 'cores.choice' && system !== undefined)
        tell('unknown-system', system, systems, document.keyPlace(path), 'A core is chosen for');
      if (core !== undefined)
        tell('unknown-core', core, cores, document.keyPlace(path.slice(0, -1)), 'Options are given for');
      if (candidate.wish.kind !== 'cores') continue;
      for (const wish of candidate.wish.wishes) {
        tell('unknown-core', wish.core, cores, wish.place, 'The list names');
        if (wish.instance !== undefined && candidate.origin.document === resolved.profile) {
          tell('unknown-frontend', wish.instance, resolved.frontends, wish.place, 'The list asks');
        }
      }
    }
    return findings;
  },
};
