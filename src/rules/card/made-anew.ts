import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { CardPath } from '../../model/paths.ts';
import type { Place } from '../../text/place.ts';
import type { Rule } from '../contract.ts';
import { writtenFiles } from './written-files.ts';

interface Maker {
  readonly instance: string;
  readonly from: readonly string[];
  readonly place: Place;
}

/** A file to be written that some frontend of the device makes anew from other files: what is in it is lost. */
export const madeAnew: Rule = {
  name: 'made-anew',
  codes: ['file-made-anew'],
  check({ resolved, compiled, lens }) {
    const makers = new Map<CardPath, Maker>();
    for (const { name, dialect } of resolved.instances) {
      for (const [id, { 'generated-from': from }] of Object.entries(dialect.data.files)) {
        const path = from === undefined ? undefined : lens(name)?.path(id, {});
        if (from === undefined || path === undefined) continue;
        makers.set(path, {
          instance: name,
          from: typeof from === 'string' ? [from] : from,
          place: dialect.place(['files', id, 'generated-from']),
        });
      }
    }
    const findings: Finding[] = [];
    for (const [path, writers] of makers.size === 0 ? [] : writtenFiles(compiled)) {
      const maker = makers.get(path);
      for (const { origin, setting, instance } of maker === undefined ? [] : writers) {
        if (maker === undefined) continue;
        findings.push(
          makeFinding('file-made-anew', {
            place: origin.place,
            related: [{ place: maker.place, note: 'the dialect says so here' }],
            setting,
            instance,
            about: [path],
            detail: `${maker.instance} makes ${path} anew from ${maker.from.join(' and ')}: what is written into it is gone at the next start.`,
            wayOut: `Write it into ${maker.from.join(' or ')} instead.`,
          }),
        );
      }
    }
    return findings;
  },
};
