import { createHash } from 'node:crypto';
import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import type { CatalogDocument, DialectDocument } from '../model/document.ts';
import type { HostPath } from '../model/paths.ts';
import { encodeText } from '../text/encoding.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import { findFile, readSource } from './find-file.ts';
import type { Layer } from './load-layers.ts';
import { pickVersion } from './pick-version.ts';
import { readCatalog, readDialect } from './read-document.ts';
import type { Shelf } from './shelf.ts';
import { isInside, shownName } from './workspace.ts';
import type { Base } from './workspace.ts';

/** A dialect with what lies beside its file, in a folder of its name: templates, and stock trees by frontend version. */
export interface LoadedDialect {
  readonly document: DialectDocument;
  /** By the name that the dialect gives them. */
  readonly templates: ReadonlyMap<string, SourceText>;
  readonly path: HostPath;
  readonly base: Base;
  /** SHA-256 of the file, for the lock. */
  readonly sha256: string;
}

/** Where a reference stands and what it says. */
export interface Reference {
  readonly written: string;
  readonly place: Place;
  readonly layer: Layer;
}

function sha256(text: string): string {
  return createHash('sha256').update(encodeText(text)).digest('hex');
}

function found(
  files: Files,
  shelf: Shelf,
  kind: 'dialect' | 'catalog',
  reference: Reference,
  pinned: string | undefined,
): Outcome<{ readonly path: HostPath; readonly base: Base; readonly source: SourceText } | undefined> {
  if (/\.ya?ml$/i.test(reference.written)) {
    const file = findFile(
      files,
      reference.layer.base,
      files.join(reference.layer.path, '..'),
      reference.written,
      reference.place,
    );
    return {
      value: file.value === undefined ? undefined : { ...file.value, base: reference.layer.base },
      findings: file.findings,
    };
  }
  return pickVersion(shelf, kind, reference.written, reference.place, pinned);
}

/** A dialect by `name@range` from the shelf, or by file. */
export function loadDialect(
  files: Files,
  shelf: Shelf,
  reference: Reference,
  pinned: string | undefined,
): Outcome<LoadedDialect | undefined> {
  const file = found(files, shelf, 'dialect', reference, pinned);
  if (file.value === undefined) return { value: undefined, findings: file.findings };
  const { path, base, source } = file.value;
  const read = readDialect(source, reference.place);
  if (read.value === undefined) return { value: undefined, findings: read.findings };
  const document = read.value;
  const findings: Finding[] = [...read.findings];
  const templates = new Map<string, SourceText>();
  for (const [id, spec] of Object.entries(document.data.files)) {
    // What leads away is told by the check of the dialect itself.
    if (spec.template === undefined || /(^|[/\\])\.\.([/\\]|$)/.test(spec.template)) continue;
    const template = findFile(
      files,
      base,
      dialectFolder(files, path, document),
      spec.template,
      document.place(['files', id, 'template']),
    );
    findings.push(...template.findings);
    if (template.value !== undefined) templates.set(spec.template, template.value.source);
  }
  return { value: { document, templates, path, base, sha256: sha256(source.text) }, findings };
}

/** The folder beside the dialect's file that has its name. */
function dialectFolder(files: Files, path: HostPath, document: DialectDocument): HostPath {
  return files.join(path, '..', document.data.dialect);
}

/**
 * A file of the stock tree of an exact frontend version, `<dialect>/stock/<version>/`, laid out from the root.
 * Undefined when the dialect carries no such tree, or no such file in it.
 */
export function stockFile(files: Files, dialect: LoadedDialect, version: string, path: string): SourceText | undefined {
  if (!/^[A-Za-z0-9][A-Za-z0-9._+-]*$/.test(version)) return undefined;
  let known = stockOnce.get(dialect);
  if (known === undefined) stockOnce.set(dialect, (known = new Map<string, SourceText | undefined>()));
  const key = `${version}/${path}`;
  if (!known.has(key)) known.set(key, readStock(files, dialect, version, path));
  return known.get(key);
}

/** All devices of a workspace share the stock files of a dialect. */
const stockOnce = new WeakMap<LoadedDialect, Map<string, SourceText | undefined>>();

function readStock(files: Files, dialect: LoadedDialect, version: string, path: string): SourceText | undefined {
  const host = files.join(dialectFolder(files, dialect.path, dialect.document), 'stock', version, ...path.split('/'));
  if (files.kind(host) === undefined || !isInside(files, dialect.base, host)) return undefined;
  return readSource(files, host, shownName(dialect.base, host)).value;
}

/** A catalog by `name@range` from the shelf, or by file. */
export function loadCatalog(files: Files, shelf: Shelf, reference: Reference): Outcome<CatalogDocument | undefined> {
  const file = found(files, shelf, 'catalog', reference, undefined);
  return file.value === undefined
    ? { value: undefined, findings: file.findings }
    : readCatalog(file.value.source, reference.place);
}
