import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import type { CatalogDocument, DialectDocument, LayerDocument } from '../model/document.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import type { CatalogWritten } from '../vocabulary/shapes/catalog.ts';
import type { DialectWritten } from '../vocabulary/shapes/dialect.ts';
import type { LayerWritten } from '../vocabulary/shapes/profile.ts';
import { fileKinds, firstKey, kindOf } from './file-kind.ts';
import type { FileKind } from './file-kind.ts';
import { readYaml } from './read-yaml.ts';
import { refuseText } from './refuse-text.ts';

/** The kind of a file that is wanted to be one of several; a finding when it is another, or none. */
function wantKind<K extends FileKind>(
  source: SourceText,
  wanted: readonly K[],
  asked: Place | undefined,
): Outcome<K | undefined> {
  const refused = refuseText(source);
  if (refused.length > 0) return { value: undefined, findings: refused };
  const kind = kindOf(source.text);
  const found = wanted.find((name) => name === kind);
  if (found !== undefined) return { value: found, findings: [] };
  const key = firstKey(source.text);
  const related = asked === undefined ? {} : { related: [{ place: asked, note: 'asked for here' }] };
  const start =
    key === undefined
      ? 0
      : Math.max(0, source.text.search(new RegExp(`^["']?${key.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`, 'm')));
  const place: Place = { source, span: { start, end: start + (key?.length ?? 0) } };
  const names = wanted.join(' or ');
  if (source.text.trim() === '' || key === undefined) {
    const empty = source.text.replace(/^\s*#.*$/gm, '').trim() === '';
    return {
      value: undefined,
      findings: [
        makeFinding(empty ? 'empty-file' : 'unknown-kind', {
          place,
          ...related,
          detail: empty
            ? 'Nothing is in the file.'
            : `A file's first key says what it is, and this one begins with none.`,
          wayOut: `Begin it with what it is: ${(asked === undefined ? fileKinds : wanted).map((k) => `${k}: NAME`).join(', or ')}.`,
        }),
      ],
    };
  }
  if (kind !== undefined) {
    return {
      value: undefined,
      findings: [
        makeFinding('wrong-kind-of-file', {
          place,
          ...related,
          detail: `This is a ${kind}, and a ${names} is wanted.`,
          wayOut: `Name a file that begins with ${wanted.map((w) => `${w}:`).join(' or ')}`,
        }),
      ],
    };
  }
  const near = nearestNames(key, wanted).concat(nearestNames(key, fileKinds))[0];
  return {
    value: undefined,
    findings: [
      makeFinding('unknown-kind', {
        place,
        ...related,
        detail: `A file's first key says what it is; ${JSON.stringify(visible(key))} is none of ${fileKinds.join(', ')}.`,
        wayOut: near === undefined ? `Begin it with ${names}: NAME.` : `Write ${near}.`,
        ...(near === undefined
          ? {}
          : { mend: { grade: 'certain' as const, source, edits: [{ span: place.span, text: near }] } }),
      }),
    ],
  };
}

/** A profile or a house. `asked`: the place that names the file. */
export function readLayer(
  source: SourceText,
  wanted: readonly ('profile' | 'house')[],
  asked?: Place,
): Outcome<LayerDocument | undefined> {
  const kind = wantKind(source, wanted, asked);
  return kind.value === undefined
    ? { value: undefined, findings: kind.findings }
    : readYaml<LayerWritten>(source, kind.value);
}

export function readDialect(source: SourceText, asked?: Place): Outcome<DialectDocument | undefined> {
  const kind = wantKind(source, ['dialect'], asked);
  return kind.value === undefined
    ? { value: undefined, findings: kind.findings }
    : readYaml<DialectWritten>(source, kind.value);
}

export function readCatalog(source: SourceText, asked?: Place): Outcome<CatalogDocument | undefined> {
  const kind = wantKind(source, ['catalog'], asked);
  return kind.value === undefined
    ? { value: undefined, findings: kind.findings }
    : readYaml<CatalogWritten>(source, kind.value);
}
