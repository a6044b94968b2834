import { watch } from 'node:fs';
import type { HostPath } from '../model/paths.ts';

/**
 * Calls back soon after something below the folders changes, once for all that comes within a moment (editors write a
 * file in several steps). Gives the function that ends it.
 */
export function watchFolders(folders: readonly HostPath[], changed: (name: string) => void): () => void {
  let due: NodeJS.Timeout | undefined;
  const watchers = folders.map((folder) =>
    watch(folder, { recursive: true }, (_event, name) => {
      clearTimeout(due);
      due = setTimeout(() => changed(name ?? ''), 80);
    }),
  );
  return () => {
    clearTimeout(due);
    for (const watcher of watchers) watcher.close();
  };
}
