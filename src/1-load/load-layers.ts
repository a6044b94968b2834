import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { visible } from '../diagnostics/visible.ts';
import type { Files } from '../files/contract.ts';
import type { LayerDocument } from '../model/document.ts';
import type { HostPath } from '../model/paths.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import { findFile, readSource } from './find-file.ts';
import { findPackage, isPackageName } from './packages.ts';
import { readLayer } from './read-document.ts';
import { isInside, shownName } from './workspace.ts';
import type { Base, Workspace } from './workspace.ts';

/** A layer, and where it lies: what it names is looked up from there. */
export interface Layer {
  readonly document: LayerDocument;
  readonly path: HostPath;
  readonly base: Base;
}

const longestChain = 50;

/** The profile and all that it extends, lowest first, each file once. `value` is undefined when any of it is broken. */
export function loadLayers(
  files: Files,
  workspace: Workspace,
  profilePath: HostPath,
): Outcome<readonly Layer[] | undefined> {
  const findings: Finding[] = [];
  const layers: Layer[] = [];
  const done = new Set<string>();
  let broken = false;

  const visit = (
    path: HostPath,
    base: Base,
    source: SourceText,
    wanted: readonly ('profile' | 'house')[],
    asked: Place | undefined,
    chain: readonly string[],
  ): void => {
    const real = files.real(path) ?? path;
    if (done.has(real)) return;
    const read = readLayer(source, wanted, asked);
    findings.push(...read.findings);
    if (read.value === undefined) {
      broken = true;
      return;
    }
    const document = read.value;
    const written = document.data.extends;
    const listed = written === undefined || written === null ? [] : typeof written === 'string' ? [written] : written;
    listed.forEach((reference, index) => {
      const place = document.place(typeof written === 'string' ? ['extends'] : ['extends', index]);
      const target = locate(files, workspace, base, path, reference, place);
      findings.push(...target.findings);
      if (target.value === undefined) {
        broken = true;
        return;
      }
      const next = files.real(target.value.path) ?? target.value.path;
      if ([...chain, real].includes(next)) {
        broken = true;
        const names = [...chain, real].slice([...chain, real].indexOf(next)).concat(next);
        findings.push(
          makeFinding('extends-cycle', {
            place,
            detail: `${names.map((name) => visible(name.replace(/^.*[/\\]/, ''))).join(' extends ')}.`,
            wayOut: 'Remove one of these extends: lines.',
          }),
        );
        return;
      }
      if (chain.length > longestChain) {
        broken = true;
        findings.push(
          makeFinding('too-deep', {
            place,
            detail: `More than ${longestChain} files extend one another.`,
            wayOut: 'Put some of them together.',
          }),
        );
        return;
      }
      visit(target.value.path, target.value.base, target.value.source, ['house', 'profile'], place, [...chain, real]);
    });
    done.add(real);
    layers.push({ document, path, base });
  };

  if (files.kind(profilePath) !== undefined && !isInside(files, workspace.base, profilePath)) {
    return {
      value: undefined,
      findings: [
        makeFinding('leads-outside', {
          detail: `${visible(shownName(workspace.base, profilePath))} is not in the workspace.`,
          wayOut: 'Name a profile of the workspace, or go to the folder it is in.',
        }),
      ],
    };
  }
  const source = readSource(files, profilePath, shownName(workspace.base, profilePath));
  if (source.value === undefined) return { value: undefined, findings: source.findings };
  visit(profilePath, workspace.base, source.value, ['profile'], undefined, []);
  return { value: broken ? undefined : layers, findings };
}

/** What an `extends:` entry names: a file, relative to the one that names it, or an installed package. */
function locate(
  files: Files,
  workspace: Workspace,
  base: Base,
  from: HostPath,
  reference: string,
  place: Place,
): Outcome<{ readonly path: HostPath; readonly base: Base; readonly source: SourceText } | undefined> {
  if (/\.ya?ml$/i.test(reference) || !isPackageName(reference)) {
    const found = findFile(files, base, files.join(from, '..'), reference, place);
    return { value: found.value === undefined ? undefined : { ...found.value, base }, findings: found.findings };
  }
  const offer = findPackage(files, workspace, reference);
  if (offer?.layer === undefined) {
    const beside = files.kind(files.join(from, '..', `${reference}.yaml`)) === 'file';
    return {
      value: undefined,
      findings: [
        makeFinding('no-such-package', {
          place,
          detail:
            offer === undefined
              ? `No package ${visible(reference)} with something for this tool is installed here.`
              : `The package ${visible(reference)} offers neither a profile nor a house.`,
          wayOut: beside
            ? `Write ${reference}.yaml, which is a file beside this one.`
            : 'Install it with npm, or name a file that ends in .yaml.',
        }),
      ],
    };
  }
  const found = findFile(files, offer.base, offer.base.folder, offer.layer, place);
  return {
    value: found.value === undefined ? undefined : { ...found.value, base: offer.base },
    findings: found.findings,
  };
}
