import { styleOf } from '../dialect/style-of.ts';
import type { KeyLookup } from '../dialect/contract.ts';
import type { CardPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';
import type { Tree } from '../syntax/contract.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { SourceText } from '../text/source-text.ts';

/** A file of an instance's dialect as it stands before us. */
export type StandingTrees = (instance: string, file: string, path: CardPath) => Tree | undefined;

/** Reads the files that stand before us, each parsed once. */
export function standingTrees(resolved: Resolved, base: (path: CardPath) => SourceText | undefined): StandingTrees {
  const trees = new Map<CardPath, Tree | undefined>();
  return (instance, file, path) => {
    if (!trees.has(path)) {
      const spec = resolved.instances.find(({ name }) => name === instance)?.dialect.data.files[file];
      const source = base(path);
      trees.set(
        path,
        spec === undefined || source === undefined
          ? undefined
          : syntaxes[spec.syntax].parse(source, styleOf(spec.style)).tree,
      );
    }
    return trees.get(path);
  };
}

/** Reads keys of the files that a build touches. */
export function keyLookup(
  edits: readonly { readonly instance: string; readonly file: string; readonly path: CardPath }[],
  tree: StandingTrees,
): KeyLookup {
  const owners = new Map<CardPath, (typeof edits)[number]>();
  for (const edit of edits) if (!owners.has(edit.path)) owners.set(edit.path, edit);
  return (path, key) => {
    const owner = owners.get(path);
    return owner === undefined ? undefined : tree(owner.instance, owner.file, path)?.get(key);
  };
}
