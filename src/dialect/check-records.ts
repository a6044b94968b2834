import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DialectDocument, Path } from '../model/document.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { CompiledRecords } from './compiled-dialect.ts';
import { escapeInKey } from './key-escape.ts';
import type { Template } from './template/template.ts';

/** What the file's format makes of a setting's records: whether there are some, their path and their fields. */
export function checkRecords(
  setting: string,
  all: readonly CompiledRecords[],
  document: DialectDocument,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
): readonly Finding[] {
  const withRecords = Object.values(syntaxes).flatMap(({ name, records }) => (records === undefined ? [] : [name]));
  const findings: Finding[] = [];
  all.forEach((one, index) => {
    const { origin, file, at, field } = one;
    const { syntax } = file.written;
    const { records } = syntaxes[syntax];
    if (records === undefined) {
      findings.push(
        makeFinding('bad-records', {
          place: document.place([...origin, 'file']),
          setting,
          detail: `${file.id} is of the format ${syntax}, which has no repeated elements.`,
          wayOut: `Name a file of the format ${withRecords.join(', ')}; or, where it is one key, spell ${setting} under settings as a list.`,
        }),
      );
      return;
    }
    if (file.written['generated-from'] !== undefined)
      findings.push(
        makeFinding('unknown-dialect-file', {
          place: document.place([...origin, 'file']),
          setting,
          detail: `The frontend makes ${file.id} anew from other files, so what is written there is lost.`,
          wayOut: 'Name the file that it is made from.',
        }),
      );
    const bad = (path: Path, what: string, text: string, why: string | undefined): void => {
      if (why === undefined) return;
      findings.push(
        makeFinding('bad-key-path', {
          place: document.place([...origin, ...path]),
          setting,
          detail: `${JSON.stringify(text)} is no ${what} in the format ${syntax}: ${why.replace(/\.$/, '')}.`,
          wayOut: `Write it as ${syntax} files name ${what === 'field' ? 'keys, from the record on' : 'keys, from the top of the file to the element that is repeated'}.`,
        }),
      );
    };
    bad(['at'], 'path to records', at.text, records.badAt(exampleOf(at, syntax)));
    const own = document.data.records?.[one.kind];
    const written = own === undefined ? undefined : 'fields' in own ? own : own[Number(origin.at(-1))];
    for (const [name, text] of Object.entries(written?.fields ?? {})) {
      const shown = name === 'list' || name === 'favourite' || name === 'hidden' ? exampleOf(field, syntax) : text;
      bad(['fields', name], 'field', text, records.badField(shown));
    }
    for (const name of Object.keys(written?.new ?? {})) bad(['new', name], 'field', name, records.badField(name));
    // Two that hold at one version: the second is never used.
    const before = all.slice(0, index).find((other) => other.versions === one.versions);
    if (before !== undefined)
      findings.push(
        makeFinding('bad-records', {
          place: one.place,
          related: [{ place: before.place, note: 'the one that is used' }],
          setting,
          detail: `${setting} is kept in records twice for the same versions.`,
          wayOut: 'Give each versions of its own.',
        }),
      );
  });
  return findings;
}

/** The template with names of the usual kind: what real names do is seen where they are known. */
function exampleOf(template: Template, syntax: SyntaxName): string {
  const made = template.render(
    () => 'x',
    (text) => escapeInKey(syntax, text),
  );
  return made.kind === 'text' ? made.text : template.text;
}
