import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { styleOf } from '../dialect/style-of.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { buildRecords } from './build-records.ts';
import { placesAfter } from './places-after.ts';
import type { BuiltFile, BuiltKey, Compiled, Edit, WholeFile } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { Change, Syntax, SyntaxName } from '../syntax/contract.ts';
import { applyEdits } from '../text/text-edit.ts';
import type { SourceText } from '../text/source-text.ts';

/** What stands on the card, in a stock tree or nowhere, before we write. */
export type Base = (path: CardPath) => SourceText | undefined;

/** The mode that a dialect writes in octal digits, as a number. */
export function modeOf(text: string | undefined): number | undefined {
  return text === undefined ? undefined : Number.parseInt(text, 8);
}

/**
 * Edits laid into the base texts, file by file: no byte that no edit names is changed. With no base, a file holds our
 * keys alone. `held`: the file holds the setting's value already, perhaps in another spelling, which is kept. Files come
 * out sorted by path; one that no edit reaches is not among them.
 */
export function buildFiles(
  compiled: Compiled,
  base: Base,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
  held: (edit: Edit) => boolean,
): Outcome<readonly BuiltFile[]> {
  const byPath = new Map<CardPath, Edit[]>();
  for (const edit of compiled.edits) {
    const known = byPath.get(edit.path);
    if (known === undefined) byPath.set(edit.path, [edit]);
    else known.push(edit);
  }
  const findings: Finding[] = [];
  const files: BuiltFile[] = compiled.wholeFiles.map((file) => wholeFile(file, base(file.path)));
  for (const [path, edits] of byPath) {
    const built = buildFile(compiled, path, edits, base(path), syntaxes, held);
    findings.push(...built.findings);
    if (built.value !== undefined) files.push(built.value);
  }
  files.sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
  return { value: files, findings };
}

function wholeFile(file: WholeFile, base: SourceText | undefined): BuiltFile {
  return {
    path: file.path,
    instances: [file.instance],
    base,
    text: file.text,
    mode: file.mode,
    keys: [],
    changes: [{ start: 0, end: file.text.length }],
    whole: file,
  };
}

function buildFile(
  compiled: Compiled,
  path: CardPath,
  edits: readonly Edit[],
  base: SourceText | undefined,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
  held: (edit: Edit) => boolean,
): Outcome<BuiltFile | undefined> {
  const [first] = edits;
  const instance = compiled.resolved.instances.find(({ name }) => name === first?.instance);
  const spec = first === undefined ? undefined : instance?.dialect.data.files[first.file];
  if (first === undefined || spec === undefined)
    throw new Error('An edit of a file that no dialect has. This is a bug in thumbwright.');
  const syntax = syntaxes[spec.syntax];
  const style = styleOf(spec.style);
  const source: SourceText = base ?? { name: path, text: '' };
  const parsed = syntax.parse(source, style);
  if (parsed.tree === undefined) return { value: undefined, findings: parsed.findings };
  // Two edits of one key with one text (a dispute was reported already) are one change; the last is the one asked.
  const wanted = new Map<string, Edit>();
  for (const edit of edits) wanted.set(edit.key, edit);
  const all = [...wanted.values()].filter((edit) => edit.record === undefined);
  const ordered = base === undefined ? all : all.filter((edit) => !held(edit));
  const changes = ordered.map((edit): Change =>
    edit.value === undefined ? { op: 'remove', path: edit.key } : { op: 'set', path: edit.key, value: edit.value },
  );
  const changed = syntax.change(parsed.tree, changes);
  const keyed = applyEdits(source.text, changed.edits);
  const parsedKeyed = changed.edits.length === 0 ? parsed : syntax.parse({ name: source.name, text: keyed }, style);
  // Records come after the keys of the same file, so that both may touch one place.
  const records = buildRecords(
    { syntax, style, name: source.name, tree: parsedKeyed.tree, text: keyed, changes: placesAfter(changed.edits) },
    [...wanted.values()],
  );
  const { text } = records;
  const after = text === keyed ? parsedKeyed : syntax.parse({ name: source.name, text }, style);
  const findings: Finding[] = [
    ...parsed.findings,
    ...records.refused.map(({ finding, edit }) => withOrigin(finding, edit)),
  ];
  const keys: BuiltKey[] = [];
  ordered.forEach((edit, index) => {
    const result = changed.results[index];
    if (result?.kind === 'refused') findings.push(withOrigin(result.finding, edit));
    keys.push({
      edit,
      span: edit.value === undefined ? undefined : after.tree?.find(edit.key)?.span,
      changed: result?.kind === 'changed',
    });
  });
  for (const edit of all) {
    if (!ordered.includes(edit))
      keys.push({
        edit,
        span: edit.value === undefined ? undefined : after.tree?.find(edit.key)?.span,
        changed: false,
      });
  }
  keys.push(...records.keys);
  return {
    value: {
      path,
      instances: [...new Set(edits.map((edit) => edit.instance))],
      base,
      text,
      mode: modeOf(spec.mode),
      keys,
      changes: records.changes,
      whole: undefined,
    },
    findings,
  };
}

/** A refusal of the syntax is placed in the file; the person must be shown the line of theirs that asked for it. */
export function withOrigin(finding: Finding, edit: Edit): Finding {
  return makeFinding(finding.code, {
    grade: finding.grade,
    detail: `${edit.setting}: ${finding.detail}`,
    wayOut: finding.wayOut,
    place: edit.origin.place,
    related: [
      ...(finding.place === undefined ? [] : [{ place: finding.place, note: 'in this file' }]),
      ...(edit.dialectPlace === undefined ? [] : [{ place: edit.dialectPlace, note: 'the key is written here' }]),
    ],
    setting: edit.setting,
    instance: edit.instance,
  });
}
