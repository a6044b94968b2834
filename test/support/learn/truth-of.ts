import { readFileSync } from 'node:fs';
import { styleOf } from '../../../src/dialect/style-of.ts';
import type { Finding } from '../../../src/diagnostics/finding.ts';
import type { KeyLookup, Lens, ReadBack } from '../../../src/dialect/contract.ts';
import { MemoryFiles } from '../../../src/files/memory.ts';
import { hostPath } from '../../../src/model/paths.ts';
import type { ScopePoint } from '../../../src/model/resolved.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import type { Tree } from '../../../src/syntax/contract.ts';
import { decodeBytes } from '../../../src/text/encoding.ts';
import type { CorpusCopy, CorpusEntry } from './corpus-entry.ts';

/** A frontend of the corpus as our own reader of dialects sees it, by the truth beside it. */
export interface Truth {
  readonly lens: Lens;
  /** What `check` says of the device's profile and the truth. */
  readonly findings: readonly Finding[];
  /** Every place where a setting can be said: the frontend, and each game system that has a file or key. */
  readonly points: readonly ScopePoint[];
  /** The parsed files of a copy, by path in it. Files that the truth does not name are left out. */
  trees(copy: CorpusCopy): ReadonlyMap<string, Tree>;
  read(copy: CorpusCopy, setting: string, point: ScopePoint): ReadBack;
  /** The keys that hold the setting: file as in the copy, and key. */
  keys(setting: string, point: ScopePoint): readonly { readonly file: string; readonly key: string }[];
}

function worldOf(entry: CorpusEntry): MemoryFiles {
  return new MemoryFiles({
    '/w/package.json': Buffer.from('{}'),
    '/w/profiles/device.yaml': Buffer.from(entry.profile),
    '/w/profiles/capture.txt': Buffer.from(entry.capture),
    [`/w/profiles/dialects/${entry.name}.yaml`]: Buffer.from(entry.truth),
    '/w/profiles/catalogs/shelf.yaml': readFileSync('profiles/catalogs/shelf.yaml'),
  });
}

export function truthOf(entry: CorpusEntry): Truth {
  const project = openProject(worldOf(entry), hostPath('/w')).value;
  if (project === undefined) throw new Error('no workspace');
  const run = runProfile(project, hostPath('/w/profiles/device.yaml'), { card: undefined, newest: false });
  const lens = run.parts?.lenses.get(entry.name);
  const instance = run.parts?.resolved.instances.find(({ name }) => name === entry.name);
  if (lens === undefined || instance === undefined)
    throw new Error(`${entry.name} has no lens: ${run.findings.map(({ detail }) => detail).join('\n')}`);
  const inCopy = (path: string): string =>
    path.startsWith(instance.root) ? path.slice(instance.root.length + 1) : path;
  const systems = Object.keys(run.parts?.resolved.catalog?.data.systems ?? {});
  const points: readonly ScopePoint[] = [{}, ...systems.map((system) => ({ system }))];
  const read = new Map<CorpusCopy, ReadonlyMap<string, Tree>>();
  const trees = (copy: CorpusCopy): ReadonlyMap<string, Tree> => {
    let found = read.get(copy);
    if (found === undefined) read.set(copy, (found = parseCopy(copy)));
    return found;
  };
  const parseCopy = (copy: CorpusCopy): ReadonlyMap<string, Tree> => {
    const found = new Map<string, Tree>();
    for (const point of points) {
      for (const [id, file] of Object.entries(instance.dialect.data.files)) {
        const path = lens.path(id, point);
        const bytes = path === undefined ? undefined : copy.files.get(inCopy(path));
        if (path === undefined || bytes === undefined || found.has(inCopy(path))) continue;
        const source = { name: inCopy(path), text: decodeBytes(bytes) };
        const { tree, findings } = syntaxes[file.syntax].parse(source, styleOf(file.style));
        if (tree === undefined)
          throw new Error(`${copy.name}/${inCopy(path)}: ${findings.map((f) => f.detail).join()}`);
        found.set(inCopy(path), tree);
      }
    }
    return found;
  };
  const lookIn =
    (copy: CorpusCopy): KeyLookup =>
    (path, key) =>
      trees(copy).get(inCopy(path))?.get(key);
  return {
    lens,
    findings: run.findings,
    points,
    trees,
    read: (copy, setting, point) => lens.read(setting, point, lookIn(copy)),
    keys(setting, point) {
      const found: { file: string; key: string }[] = [];
      // What the lens looks at is what the setting is said by.
      lens.read(setting, point, (path, key) => {
        found.push({ file: inCopy(path), key });
        return undefined;
      });
      return found;
    },
  };
}
