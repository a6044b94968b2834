import { recover } from '../5-apply/recover.ts';
import type { Recovered } from '../5-apply/recover.ts';
import type { CardPlace } from '../5-apply/apply-input.ts';
import { checkTarget } from '../5-apply/target.ts';
import { undo } from '../5-apply/undo.ts';
import type { Undone } from '../5-apply/undo.ts';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Disk } from '../files/disk.ts';
import { cardPath, splitCardPath } from '../model/paths.ts';
import type { HostPath } from '../model/paths.ts';
import type { Plan } from '../model/plan.ts';
import type { PreparedParts } from '../pipeline.ts';

export type { CardPlace, Recovered, Undone };

/** Puts right what a killed write or undo left on a card. */
export function recoverCard(place: CardPlace): Outcome<Recovered> {
  return recover(place);
}

/** Takes the last write back. */
export function undoCard(place: CardPlace): Outcome<Undone> {
  return undo(place);
}

/** What speaks against the folders being a card's parts; none: they may be written. `shown`: as the person would name a folder. */
export function targetFindings(
  disk: Disk,
  parts: PreparedParts,
  folders: ReadonlyMap<string, HostPath>,
  home: HostPath | undefined,
  shown: (folder: HostPath) => string,
): readonly Finding[] {
  return [...folders].flatMap(([part, folder]) =>
    checkTarget({ disk, part, folder, shown: shown(folder), home, signs: signsOf(parts, part) }),
  );
}

/** The same for a plan: a part is known by the files that the plan saw on it. */
export function planTargetFindings(
  disk: Disk,
  plan: Plan,
  folders: ReadonlyMap<string, HostPath>,
  home: HostPath | undefined,
  shown: (folder: HostPath) => string,
): readonly Finding[] {
  return [...folders].flatMap(([part, folder]) => {
    const signs = plan.files.flatMap(({ path, before }) => {
      const own = splitCardPath(path);
      return before === undefined || own.part !== part ? [] : [own.path];
    });
    return checkTarget({ disk, part, folder, shown: shown(folder), home, signs: signs.length === 0 ? [''] : signs });
  });
}

/** By what a part is known: the folders of its frontends, and the files of one that has no folder of its own there. */
function signsOf({ resolved, compiled, dialects }: PreparedParts, part: string): readonly string[] {
  const signs = new Set<string>();
  for (const { name, root } of resolved.instances) {
    const at = splitCardPath(root);
    if (at.part !== part) continue;
    signs.add(at.path);
    if (at.path !== '') continue;
    const detect = cardPath((dialects.get(name)?.document.data.detect?.file ?? '').replace(/^\{\{root\}\}\//, root));
    const files = compiled.edits.filter(({ instance }) => instance === name).map(({ path }) => path);
    for (const path of [...files, ...(detect === undefined ? [] : [detect])]) {
      const own = splitCardPath(path);
      if (own.part === part) signs.add(own.path);
    }
  }
  return signs.size === 0 ? [''] : [...signs];
}
