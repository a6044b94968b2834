import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { splitCardPath } from '../../model/paths.ts';
import type { Rule } from '../contract.ts';

/** File systems that keep no owner and no mode for a file (Microsoft's FAT and exFAT specifications have no such fields). */
const without = /^(?:v?fat(?:12|16|32)?|msdos|exfat)$/i;

/** Files that only one user may read, on a part that cannot say so: programs that insist on it pass them over. */
export const accessNotKept: Rule = {
  name: 'access-not-kept',
  codes: ['access-not-kept'],
  check({ resolved, compiled }) {
    const findings: Finding[] = [];
    for (const { path, mode, owner, origin, setting, instance, dialectPlace } of compiled.wholeFiles) {
      const closed = mode !== undefined && (mode & 0o077) === 0;
      const { part } = splitCardPath(path);
      const filesystem = resolved.device.parts.get(part)?.filesystem;
      if ((!closed && owner === undefined) || filesystem === undefined || !without.test(filesystem)) continue;
      const wanted = [
        ...(owner === undefined ? [] : [`belong to ${owner}`]),
        ...(closed ? ['be readable by its owner alone'] : []),
      ].join(' and ');
      findings.push(
        makeFinding('access-not-kept', {
          place: origin.place,
          related: [{ place: dialectPlace, note: 'the dialect asks for it here' }],
          setting,
          instance,
          detail: `${path} is to ${wanted}, and ${filesystem}, the file system of ${part}, keeps neither owner nor rights: a program that looks at them passes the file over.`,
          wayOut: `Let the instance's root be on a part with a Linux file system, such as ext4, or set up this network on the device itself.`,
        }),
      );
    }
    return findings;
  },
};
