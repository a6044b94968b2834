import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { splitCardPath } from '../../model/paths.ts';
import type { Rule } from '../contract.ts';
import { fileSystemOf } from './card-file-system.ts';
import { nameFaults } from './name-faults.ts';
import { writtenFiles } from './written-files.ts';

/** Names of files to be written that their part, or some desktop that the card is put into, cannot hold. */
export const namesHeld: Rule = {
  name: 'names-held',
  codes: ['name-not-held', 'name-not-everywhere'],
  check({ resolved, compiled }) {
    const findings: Finding[] = [];
    const told = new Set<string>();
    for (const [path, [writer]] of writtenFiles(compiled)) {
      if (writer === undefined) continue;
      const { part, path: inPart } = splitCardPath(path);
      const declared = resolved.device.parts.get(part);
      const members = inPart.split('/');
      for (const [index, name] of members.entries()) {
        const below = `${part}:${members.slice(0, index + 1).join('/')}`;
        if (told.has(below)) continue;
        told.add(below);
        for (const { stops, why } of nameFaults(name, fileSystemOf(declared))) {
          findings.push(
            makeFinding(stops ? 'name-not-held' : 'name-not-everywhere', {
              place: writer.origin.place,
              related:
                writer.dialectPlace === undefined
                  ? []
                  : [{ place: writer.dialectPlace, note: 'the dialect writes that file here' }],
              setting: writer.setting,
              instance: writer.instance,
              about: [below],
              detail: stops
                ? `${JSON.stringify(name)} in ${path} ${why}; ${part} is ${declared?.filesystem ?? 'of a file system that is not known'}. The file would not be where ${writer.instance} looks for it.`
                : `${JSON.stringify(name)} in ${path} ${why}: some desktops can neither copy such a file nor hold it in out/.`,
              wayOut:
                'Take another name where it comes from: the root of the instance, the folder of the system, the name of the network or list, or the path in the dialect.',
            }),
          );
        }
      }
    }
    return findings;
  },
};
