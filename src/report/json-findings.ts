import { catalogue } from '../diagnostics/catalogue.ts';
import type { Finding, Mend } from '../diagnostics/finding.ts';
import { lineColumn } from '../text/line-index.ts';
import type { Place } from '../text/place.ts';

/** Line and column count from 1, columns in UTF-16 units; `end` is just behind the last character. */
export interface PlaceJson {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export interface FindingJson {
  readonly code: string;
  readonly grade: string;
  readonly summary: string;
  readonly detail: string;
  readonly wayOut: string;
  readonly place?: PlaceJson;
  readonly related: readonly (PlaceJson & { readonly note: string })[];
  readonly setting?: string;
  readonly instance?: string;
  readonly mend?: {
    readonly grade: Mend['grade'];
    readonly changes: readonly (PlaceJson & { readonly text: string })[];
  };
}

export function placeJson(place: Place): PlaceJson {
  const start = lineColumn(place.source, place.span.start);
  const end = lineColumn(place.source, place.span.end);
  return { file: place.source.name, line: start.line, column: start.column, endLine: end.line, endColumn: end.column };
}

export function findingJson(finding: Finding): FindingJson {
  const { mend } = finding;
  return {
    code: finding.code,
    grade: finding.grade,
    summary: catalogue[finding.code].summary,
    detail: finding.detail,
    wayOut: finding.wayOut,
    ...(finding.place === undefined ? {} : { place: placeJson(finding.place) }),
    related: (finding.related ?? []).map((related) => ({ ...placeJson(related.place), note: related.note })),
    ...(finding.setting === undefined ? {} : { setting: finding.setting }),
    ...(finding.instance === undefined ? {} : { instance: finding.instance }),
    ...(mend === undefined
      ? {}
      : {
          mend: {
            grade: mend.grade,
            changes: mend.edits.map((edit) => ({
              ...placeJson({ source: mend.source, span: edit.span }),
              text: edit.text,
            })),
          },
        }),
  };
}
