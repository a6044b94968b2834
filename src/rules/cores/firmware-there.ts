import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import { cardPath } from '../../model/paths.ts';
import type { Rule } from '../contract.ts';

/** Firmware that a system needs and the card lacks. It never changes which core a build takes. */
export const firmwareThere: Rule = {
  name: 'firmware-there',
  codes: ['firmware-missing'],
  check({ resolved, card }) {
    if (card === undefined || resolved.catalog === undefined) return [];
    const findings: Finding[] = [];
    const part = [...resolved.device.parts.values()].find((p) => p.firmwareRoot !== undefined);
    if (part?.firmwareRoot === undefined) return [];
    for (const [system, decision] of resolved.chosenCores) {
      (resolved.catalog.data.systems[system]?.firmware ?? []).forEach((entry, index) => {
        const paths = entry['any-of'].map(({ file }) =>
          cardPath(
            [
              `${part.name}:${part.firmwareRoot ?? ''}`,
              ...(entry.folder === undefined ? [] : [entry.folder]),
              file,
            ].join('/'),
          ),
        );
        if (paths.some((path) => path !== undefined && card.has(path))) return;
        findings.push(
          makeFinding('firmware-missing', {
            grade: entry.needed === true ? 'warning' : 'note',
            place: decision.origin.place,
            ...(resolved.catalog === undefined
              ? {}
              : {
                  related: [
                    {
                      place: resolved.catalog.place(['systems', system, 'firmware', index]),
                      note: 'the catalog asks for it here',
                    },
                  ],
                }),
            setting: 'cores.choice',
            about: [system],
            detail: `${system} ${entry.needed === true ? 'does not start' : 'may not run every game'} without ${entry['any-of'].map(({ file }) => file).join(' or ')} in ${part.name}:${[part.firmwareRoot, entry.folder].filter((f) => f !== undefined).join('/')}, and the card has none.`,
            wayOut: 'Copy it there from a device that you own; whether you may depends on the law where you live.',
          }),
        );
      });
    }
    return findings;
  },
};
