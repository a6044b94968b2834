import { readDialect } from '../1-load/read-document.ts';
import { detectVersion } from '../dialect/detect.ts';
import { decodeBytes } from '../text/encoding.ts';
import type { Project } from '../pipeline.ts';

/** A frontend whose files a dialect knows. `root`: its folder as the device names it. */
export interface FoundFrontend {
  readonly dialect: string;
  readonly dialectVersion: string;
  readonly role: 'system' | 'other';
  readonly version: string;
  readonly root: string;
}

/** Every file that a dialect's `detect` finds a version in, among files by their paths on the device. */
export async function findFrontends(
  project: Project,
  onDevice: ReadonlyMap<string, Uint8Array>,
): Promise<readonly FoundFrontend[]> {
  const found: FoundFrontend[] = [];
  for (const { source } of project.dialectShelf.items) {
    const data = readDialect(source).value?.data;
    const name = /^\{\{root\}\}\/([^{}]+)$/.exec(data?.detect?.file ?? '')?.[1];
    if (data?.detect === undefined || name === undefined) continue;
    for (const [path, bytes] of onDevice) {
      if (!path.endsWith(`/${name}`)) continue;
      const version = await detectVersion(data.detect.pattern, decodeBytes(bytes));
      if (version === undefined) continue;
      const roles = [data.role].flat();
      found.push({
        dialect: data.dialect,
        dialectVersion: data.version,
        role: roles.some((role) => role === 'system') ? 'system' : 'other',
        version,
        root: path.slice(0, -name.length - 1),
      });
    }
  }
  return found.sort((a, b) => (a.root < b.root ? -1 : 1));
}
