import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { CardPath } from '../../model/paths.ts';
import { splitCardPath } from '../../model/paths.ts';
import type { Rule } from '../contract.ts';
import { fileSystemOf } from './card-file-system.ts';
import { foldedAnywhere, foldedBy } from './fold-name.ts';
import { writtenFiles } from './written-files.ts';
import type { Writer } from './written-files.ts';

interface Named {
  readonly path: CardPath;
  readonly writers: readonly Writer[];
}

/** Two instances that write one file, and two names that are one file on the card or on some desktop. */
export const onePathTwice: Rule = {
  name: 'one-path-twice',
  codes: ['two-instances-one-file', 'case-only-twins'],
  check({ resolved, compiled, card }) {
    const files: readonly Named[] = [...writtenFiles(compiled)].map(([path, writers]) => ({ path, writers }));
    const systemOf = (path: CardPath): ReturnType<typeof fileSystemOf> =>
      fileSystemOf(resolved.device.parts.get(splitCardPath(path).part));
    const findings: Finding[] = files.flatMap(sharedFile);
    const twins = new Map<string, Named>();
    for (const file of files) {
      const looks = foldedAnywhere(file.path);
      const first = twins.get(looks);
      if (first === undefined) twins.set(looks, file);
      else {
        const system = systemOf(file.path);
        findings.push(...twin(first, file, foldedBy(first.path, system) === foldedBy(file.path, system)));
      }
    }
    for (const { path, writers } of files) {
      const system = systemOf(path);
      const there = card?.spelled(path);
      const [writer] = writers;
      // Where the part folds case, it is the very file.
      if (there === undefined || there === path || writer === undefined) continue;
      if (foldedBy(there, system) === foldedBy(path, system)) continue;
      findings.push(
        makeFinding('case-only-twins', {
          grade: 'warning',
          place: writer.origin.place,
          setting: writer.setting,
          instance: writer.instance,
          about: [path],
          detail: `${path} is to be written, and on the card stands ${there}, another file to it. ${writer.instance} may read the one or the other.`,
          wayOut:
            'Look which of the two names the frontend uses, and write that one in the dialect, the root or the catalog.',
        }),
      );
    }
    return findings;
  },
};

/** One format, key by key, is one file that two frontends share; anything else overwrites. */
function sharedFile({ path, writers: [first, second] }: Named): readonly Finding[] {
  if (first === undefined || second === undefined) return [];
  const fits = !first.whole && !second.whole && first.spec?.syntax === second.spec?.syntax;
  return [
    makeFinding('two-instances-one-file', {
      grade: fits ? 'warning' : 'error',
      place: second.origin.place,
      related: [{ place: first.origin.place, note: `${first.instance} writes it for this` }],
      setting: second.setting,
      instance: second.instance,
      about: [path],
      detail: fits
        ? `${first.instance} and ${second.instance} both keep ${path}: what one changes in its menu, the other reads.`
        : `${first.instance} and ${second.instance} both write ${path}, and not as one can share it (${kindOf(first)}, ${kindOf(second)}): one would overwrite the other.`,
      wayOut: 'Give each instance its own root:, or name only one of them under frontends:.',
    }),
  ];
}

function kindOf({ whole, spec }: Writer): string {
  return whole ? 'a whole file' : `keys of ${spec?.syntax ?? 'a file'}`;
}

function twin(first: Named, second: Named, surely: boolean): readonly Finding[] {
  const [one] = first.writers;
  const [other] = second.writers;
  if (one === undefined || other === undefined) return [];
  return [
    makeFinding('case-only-twins', {
      grade: surely ? 'error' : 'warning',
      place: other.origin.place,
      related: [{ place: one.origin.place, note: `${first.path} is written for this` }],
      setting: other.setting,
      instance: other.instance,
      about: [second.path],
      detail: surely
        ? `${first.path} and ${second.path} are one file on that part, which does not tell case apart: the second would overwrite the first.`
        : `${first.path} and ${second.path} look alike: some desktops, and some ways of mounting a card, hold only one of them.`,
      wayOut: 'Let them differ by more than case: another root, folder or name.',
    }),
  ];
}
