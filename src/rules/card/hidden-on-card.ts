import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Edit } from '../../model/compiled.ts';
import type { ScopePoint } from '../../model/resolved.ts';
import { sameValue } from '../../model/value.ts';
import type { Rule } from '../contract.ts';

/** On a card: a file of one core or system that says otherwise, and that the frontend reads over the one we write. */
export const hiddenOnCard: Rule = {
  name: 'hidden-on-card',
  codes: ['hidden-on-card'],
  check({ resolved, compiled, lens, tree, card }) {
    if (card === undefined) return [];
    const ours = new Set(compiled.edits.map(({ instance, path, key }) => `${instance}\n${path}\n${key}`));
    const findings: Finding[] = [];
    const told = new Set<string>();
    for (const edit of compiled.edits) {
      const { decision } = edit;
      const own = lens(edit.instance);
      // Keys of one core or system are compared by the placing of scopes already.
      if (decision === undefined || own === undefined || edit.record !== undefined || !isWhole(edit)) continue;
      const about = JSON.stringify([edit.instance, edit.setting, edit.item]);
      if (told.has(about)) continue;
      told.add(about);
      for (const point of narrower(own.scopes(edit.setting), resolved.catalog?.data)) {
        const wanted = resolved.decide(instanceOf(resolved, edit), edit.setting, point, edit.item);
        const spelled = own.spell(edit.setting, decision.value, point, edit.item);
        if (wanted === undefined || !sameValue(wanted.value, decision.value) || spelled.kind === 'cannot') continue;
        const there = spelled.writes.find(({ file, path, key }) => {
          const standing = ours.has(`${edit.instance}\n${path}\n${key}`) ? undefined : tree(edit.instance, file, path);
          return standing?.get(key) !== undefined;
        });
        if (there === undefined) continue;
        const read = own.read(
          edit.setting,
          point,
          (path, key) =>
            tree(edit.instance, spelled.writes.find((write) => write.path === path)?.file ?? '', path)?.get(key),
          decision.value,
          edit.item,
        );
        if (read.kind === 'value' && sameValue(read.value, decision.value)) continue;
        const standing = tree(edit.instance, there.file, there.path);
        const at = standing?.find(there.key);
        findings.push(
          makeFinding('hidden-on-card', {
            place: edit.origin.place,
            related:
              standing === undefined || at === undefined
                ? []
                : [{ place: { source: standing.source, span: at.span }, note: 'read over it, on the card' }],
            setting: edit.setting,
            instance: edit.instance,
            about: [point.system, point.core].filter((name) => name !== undefined),
            detail: `${there.path} on the card says '${there.key}' for ${point.system ?? point.core ?? 'one of them'} otherwise, and ${edit.instance} reads it over ${edit.path}. The value of the profile does not reach it.`,
            wayOut: `Remove that line on the card, by the menu of ${edit.instance} or with an editor.`,
          }),
        );
      }
    }
    return findings;
  },
};

function isWhole({ scope }: Edit): boolean {
  return scope.core === undefined && scope.system === undefined && scope.game === undefined;
}

function instanceOf(
  resolved: Parameters<Rule['check']>[0]['resolved'],
  edit: Edit,
): (typeof resolved.instances)[number] {
  const instance = resolved.instances.find(({ name }) => name === edit.instance);
  if (instance === undefined)
    throw new Error('An edit of an instance that is not there. This is a bug in thumbwright.');
  return instance;
}

/** The points below the whole instance at which a setting could be said. Games are too many to be looked at. */
function narrower(
  scopes: readonly string[],
  catalog:
    | { readonly systems: Readonly<Record<string, unknown>>; readonly cores?: Readonly<Record<string, unknown>> }
    | undefined,
): readonly ScopePoint[] {
  if (catalog === undefined) return [];
  return [
    ...(scopes.includes('core') ? Object.keys(catalog.cores ?? {}).map((core) => ({ core })) : []),
    ...(scopes.includes('system') ? Object.keys(catalog.systems).map((system) => ({ system })) : []),
  ];
}
