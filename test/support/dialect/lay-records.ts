import type { KeyWrite, Lens, RecordLookup } from '../../../src/dialect/contract.ts';
import { buildRecords } from '../../../src/4-plan/build-records.ts';
import { styleOf } from '../../../src/dialect/style-of.ts';
import type { DialectDocument } from '../../../src/model/document.ts';
import type { Value } from '../../../src/model/value.ts';
import type { Style, Syntax } from '../../../src/syntax/contract.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { lineColumn } from '../../../src/text/line-index.ts';

export interface Want {
  readonly setting: string;
  /** The name of a list. */
  readonly item: string | undefined;
  readonly value: Value;
}

/** The one file of a dialect. */
function fileOf(dialect: DialectDocument): { readonly syntax: Syntax; readonly style: Style } {
  const [file] = Object.values(dialect.data.files);
  if (file === undefined) throw new Error('The dialect has no file.');
  return { syntax: syntaxes[file.syntax], style: styleOf(file.style) };
}

/** Lists the records of a text, whatever path they are asked at. */
export function listIn(dialect: DialectDocument, text: string): RecordLookup {
  const { syntax, style } = fileOf(dialect);
  const { tree } = syntax.parse({ name: 'text', text }, style);
  return (_file, _path, at, fields) => (tree === undefined ? [] : (syntax.records?.list(tree, at, fields) ?? []));
}

/** What a profile lists, laid into the text of a dialect's only file, as a build does; and what each edit says. */
export function layRecords(
  lens: Lens,
  dialect: DialectDocument,
  text: string,
  wants: readonly Want[],
): { readonly text: string; readonly told: readonly string[] } {
  const { syntax, style } = fileOf(dialect);
  const list = listIn(dialect, text);
  const told: string[] = [];
  const writes: KeyWrite[] = [];
  const named = (write: KeyWrite): string => JSON.stringify([write.path, write.record]);
  for (const { setting, value, item } of wants) {
    const spelled = lens.spell(setting, value, {}, item);
    if (spelled.kind === 'cannot') told.push(`${setting} cannot be said: ${spelled.why}`);
    else writes.push(...spelled.writes);
  }
  const put = new Set(writes.map((write) => `${write.path} ${write.key}`));
  for (const { setting, value, item } of wants) {
    for (const write of lens.unlisted(setting, value, list, item))
      if (!put.has(`${write.path} ${write.key}`)) writes.push(write);
  }
  const { tree } = syntax.parse({ name: 'text', text }, style);
  const laid = buildRecords({ syntax, style, name: 'text', tree, text, changes: [] }, writes);
  const source = { name: 'text', text: laid.text };
  for (const { edit, span, changed } of laid.keys) {
    const line = span === undefined ? '-' : String(lineColumn(source, span.start).line);
    const held = edit.value === undefined ? '(out)' : edit.value.kind === 'scalar' ? edit.value.text : '';
    told.push(`line ${line}: ${edit.key} = ${held}${changed ? '' : ' (as it was)'}\n    ${edit.rule.says}`);
  }
  for (const { edit, finding } of laid.refused) told.push(`refused: ${named(edit)} ${finding.code}: ${finding.detail}`);
  return { text: laid.text, told };
}
