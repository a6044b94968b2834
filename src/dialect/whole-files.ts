import type { ScopePoint } from '../model/resolved.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { CompiledFile } from './compiled-dialect.ts';
import type { Context, ValueLookup, WholeSpelling } from './contract.ts';
import type { Cannot } from './codecs/contract.ts';
import type { CardPath } from '../model/paths.ts';
import { escapeForKeyfile } from './template/keyfile.ts';
import { eachFileNames, fileNames } from './template/names.ts';
import { writtenFormat } from './written-format.ts';
import { parseTemplate } from './template/parse-template.ts';
import type { NameLookup, Template, TemplateItem } from './template/template.ts';
import { networkItems, valueInTemplate } from './value-names.ts';

/** The template of a file made whole, or why there is none. Its findings are `checkDialect`'s. */
export function templateOf(file: CompiledFile, context: Context): Template | undefined {
  const name = file.written.template;
  const source = name === undefined ? undefined : context.templates?.get(name);
  if (source === undefined) return undefined;
  const allowed = file.written.each === undefined ? fileNames : eachFileNames;
  return parseTemplate({ source, span: { start: 0, end: source.text.length } }, source.text, allowed).value;
}

/** The settings whose values a file made whole depends on. */
export function settingsOf(file: CompiledFile, template: Template | undefined): readonly string[] {
  const found = new Set<string>();
  if (file.written.each !== undefined) found.add(file.written.each);
  for (const name of template?.names ?? []) if (name.startsWith('settings.')) found.add(name.slice('settings.'.length));
  return [...found];
}

/** The file at one scope point: once, or once for each item of its list. None when every setting is left alone. */
export function wholeFile(
  file: CompiledFile,
  context: Context,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
  names: NameLookup,
  pathOf: (item: TemplateItem | undefined) => CardPath | Cannot,
  values: ValueLookup,
  point: ScopePoint,
): readonly WholeSpelling[] {
  const template = templateOf(file, context);
  const settings = settingsOf(file, template);
  const each = file.written.each;
  const listed = each === undefined ? undefined : values(each);
  if (each === undefined ? settings.every((id) => values(id) === undefined) : listed === undefined) return [];
  const { mode, owner } = file.written;
  const writes = writtenFormat(file.written);
  const escape =
    writes === undefined
      ? (text: string): string => text
      : writes === 'keyfile'
        ? escapeForKeyfile
        : (text: string): string => syntaxes[writes].escape(text);
  const items =
    each === undefined ? [undefined] : listed?.kind === 'networks' ? networkItems(listed, 'item', context) : [];
  return items.map((item): WholeSpelling => {
    const about = {
      file: file.id,
      settings,
      dialectPlace: file.place,
      rule: { name: 'template', says: `the whole file, made from ${file.written.template ?? 'a template'}` },
    };
    const cannot = (code: Cannot['code'], why: string): WholeSpelling => ({
      ...about,
      made: { kind: 'cannot', code, why },
    });
    if (template === undefined)
      return cannot('bad-template', `its template ${file.written.template ?? ''} cannot be used`);
    const path = pathOf(item);
    if (typeof path !== 'string') return cannot(path.code, path.why);
    const look: NameLookup = (name) => {
      if (name.startsWith('item.')) return item?.get(name);
      if (!name.startsWith('settings.')) return names(name);
      const value = values(name.slice('settings.'.length));
      return value === undefined ? undefined : valueInTemplate(value, context);
    };
    const made = template.render(look, escape);
    switch (made.kind) {
      case 'missing':
        return cannot(
          'name-without-value',
          `{{${made.name}}} of its template has no value${point.system === undefined ? '' : ` for ${point.system}`}`,
        );
      case 'cannot':
        return cannot('not-expressible', made.why);
      case 'text':
        return {
          ...about,
          made: {
            kind: 'text',
            path,
            text: made.text,
            ...(made.secrets === undefined ? {} : { secrets: made.secrets }),
            mode: mode === undefined ? undefined : Number.parseInt(mode, 8),
            owner,
          },
        };
    }
  });
}
