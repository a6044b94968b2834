import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { decodeBytes } from '../text/encoding.ts';
import type { Base, Workspace } from './workspace.ts';

/** What an installed package offers, by the `thumbwright` member of its package.json. */
export interface PackageOffer {
  readonly name: string;
  readonly base: Base;
  /** File of its profile or house, as written there. */
  readonly layer: string | undefined;
  /** Folders, as written there. */
  readonly dialects: string | undefined;
  readonly catalogs: string | undefined;
}

const namePattern = /^(?:@[a-z0-9~-][a-z0-9._~-]*\/)?[a-z0-9~-][a-z0-9._~-]*$/;

function json(files: Files, path: HostPath): Readonly<Record<string, unknown>> | undefined {
  const read = files.read(path, 1_000_000);
  if (read.kind !== 'bytes') return undefined;
  try {
    const data: unknown = JSON.parse(decodeBytes(read.bytes).replace(/^\ufeff/, ''));
    return typeof data === 'object' && data !== null && !Array.isArray(data)
      ? Object.fromEntries(Object.entries(data))
      : undefined;
  } catch {
    return undefined;
  }
}

function textIn(value: unknown, name: string): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const member: unknown = Object.entries(value).find(([key]) => key === name)?.[1];
  return typeof member === 'string' ? member : undefined;
}

/** Whether a reference can be a package's name at all. */
export function isPackageName(text: string): boolean {
  return namePattern.test(text) && text.length <= 214;
}

/** A package installed in the workspace; undefined when it is not there or offers nothing to this tool. */
export function findPackage(files: Files, workspace: Workspace, name: string): PackageOffer | undefined {
  if (!isPackageName(name)) return undefined;
  const folder = files.join(workspace.base.folder, 'node_modules', ...name.split('/'));
  const about = json(files, files.join(folder, 'package.json'));
  const offer = about?.['thumbwright'];
  if (offer === undefined) return undefined;
  const base: Base = { folder, real: files.real(folder) ?? folder, label: `package:${name}/` };
  return {
    name,
    base,
    layer: textIn(offer, 'profile') ?? textIn(offer, 'house'),
    dialects: textIn(offer, 'dialects'),
    catalogs: textIn(offer, 'catalogs'),
  };
}

/** The packages that the workspace's package.json names and that offer something, in the order of their names. */
export function offeredPackages(files: Files, workspace: Workspace): readonly PackageOffer[] {
  const about = json(files, files.join(workspace.base.folder, 'package.json'));
  const names = new Set<string>();
  for (const member of ['dependencies', 'devDependencies', 'optionalDependencies']) {
    const listed = about?.[member];
    if (typeof listed === 'object' && listed !== null) for (const name of Object.keys(listed)) names.add(name);
  }
  return [...names].sort().flatMap((name) => findPackage(files, workspace, name) ?? []);
}
