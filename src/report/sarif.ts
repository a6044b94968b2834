import type { Location, Log } from 'sarif';
import { catalogue } from '../diagnostics/catalogue.ts';
import type { Code } from '../diagnostics/catalogue.ts';
import type { Finding, Grade } from '../diagnostics/finding.ts';
import type { Place } from '../text/place.ts';
import { placeJson } from './json-findings.ts';

/** SARIF 2.1.0 (OASIS Standard, 27 March 2020) section 3.58.6: the values of `level`. */
const levels: Readonly<Record<Grade, 'error' | 'warning' | 'note'>> = {
  error: 'error',
  warning: 'warning',
  note: 'note',
};

function location(place: Place): Location {
  const at = placeJson(place);
  return {
    physicalLocation: {
      // Section 3.4.3: a URI reference, so that blanks and the like are escaped.
      artifactLocation: { uri: at.file.split('/').map(encodeURIComponent).join('/') },
      region: { startLine: at.line, startColumn: at.column, endLine: at.endLine, endColumn: at.endColumn },
    },
  };
}

/** Findings as one SARIF 2.1.0 log with one run. Columns are UTF-16 units (section 3.14.17). */
export function sarif(findings: readonly Finding[], version: string): Log {
  const codes = [...new Set(findings.map((finding) => finding.code))].sort();
  const ruleIndex = new Map<Code, number>(codes.map((code, index) => [code, index]));
  return {
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'thumbwright',
            version,
            rules: codes.map((code) => ({
              id: code,
              shortDescription: { text: catalogue[code].summary },
              defaultConfiguration: { level: levels[catalogue[code].grade] },
              help: { text: `thumbwright check --explain ${code}` },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results: findings.map((finding) => ({
          ruleId: finding.code,
          ruleIndex: ruleIndex.get(finding.code) ?? 0,
          level: levels[finding.grade],
          message: { text: `${finding.detail} ${finding.wayOut}` },
          ...(finding.place === undefined ? {} : { locations: [location(finding.place)] }),
          ...(finding.related === undefined || finding.related.length === 0
            ? {}
            : {
                relatedLocations: finding.related.map((related, id) => ({
                  id,
                  message: { text: related.note },
                  ...location(related.place),
                })),
              }),
          ...(finding.mend === undefined || finding.mend.grade === 'hint'
            ? {}
            : {
                fixes: [
                  {
                    description: { text: finding.wayOut },
                    artifactChanges: [
                      {
                        artifactLocation: { uri: finding.mend.source.name },
                        replacements: finding.mend.edits.map((edit) => {
                          const at = placeJson({
                            source: finding.mend?.source ?? { name: '', text: '' },
                            span: edit.span,
                          });
                          return {
                            deletedRegion: {
                              startLine: at.line,
                              startColumn: at.column,
                              endLine: at.endLine,
                              endColumn: at.endColumn,
                            },
                            insertedContent: { text: edit.text },
                          };
                        }),
                      },
                    ],
                  },
                ],
              }),
        })),
      },
    ],
  };
}
