import type { Finding } from '../diagnostics/finding.ts';
import type { DialectDocument, Path } from '../model/document.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { CodecsWritten, EntryWritten, FileWritten, WriteWritten } from '../vocabulary/shapes/dialect.ts';
import type { Scope, SettingDefinition } from '../vocabulary/types.ts';
import { codecKinds } from './codecs/kinds.ts';
import type { Codec, Site } from './codecs/contract.ts';
import type {
  CompiledComputed,
  CompiledDialect,
  CompiledEntry,
  CompiledFile,
  CompiledKey,
  CompiledWrite,
} from './compiled-dialect.ts';
import { Faults } from './faults.ts';
import { badRange } from './frontend-version.ts';
import { kindWords } from './kind-words.ts';
import { readKeyMap } from './key-map.ts';
import type { KeyEntry } from './key-map.ts';
import { compileRecords } from './compile-records.ts';
import { scopeOfNames } from './scope-of-names.ts';
import { computedNames, eachPathNames, keyNames, ownKeyName, ownKeyNames, pathNames } from './template/names.ts';
import { parseTemplate } from './template/parse-template.ts';

const known = new WeakMap<DialectDocument, CompiledDialect>();

/** Made once for each document, whatever the number of instances. */
export function compileDialect(document: DialectDocument): CompiledDialect {
  let compiled = known.get(document);
  if (compiled === undefined) known.set(document, (compiled = new Compiler(document).run()));
  return compiled;
}

class Compiler {
  private readonly faults: Faults;
  private readonly findings: Finding[];
  private readonly files = new Map<string, CompiledFile>();
  private readonly document: DialectDocument;

  constructor(document: DialectDocument) {
    this.document = document;
    this.faults = new Faults(document);
    this.findings = this.faults.findings;
  }

  run(): CompiledDialect {
    const { data } = this.document;
    for (const [id, file] of Object.entries(data.files)) this.file(id, file);
    const entries = new Map<string, readonly CompiledEntry[]>();
    for (const [id, written] of Object.entries(data.settings)) {
      const setting = settingById(id);
      if (setting === undefined) {
        this.faults.unknownSetting(id, ['settings', id]);
        continue;
      }
      const list: readonly EntryWritten[] = isList(written) ? written : [written];
      const made = list.map((entry, at) =>
        this.entry(setting, entry, isList(written) ? ['settings', id, at] : ['settings', id]),
      );
      entries.set(
        id,
        made.filter((entry) => entry !== undefined),
      );
    }
    const computed = (data.computed ?? []).map((written, at) => this.computed(written, ['computed', at]));
    return {
      document: this.document,
      files: this.files,
      entries,
      computed: computed.filter((entry) => entry !== undefined),
      records: compileRecords(data, {
        faults: this.faults,
        fileById: (id, path, setting) => this.fileById(id, path, setting),
        placeOf: (path) => this.document.place(path),
      }),
      findings: this.findings,
    };
  }

  private file(id: string, written: FileWritten): void {
    const path: Path = ['files', id, 'path'];
    const { value, findings } = parseTemplate(
      this.document.place(path),
      written.path,
      written.each === undefined ? pathNames : eachPathNames,
    );
    this.findings.push(...findings);
    if (value !== undefined)
      this.files.set(id, { id, written, path: value, place: this.document.keyPlace(['files', id]) });
  }

  private fileById(id: string, path: Path, setting?: string): CompiledFile | undefined {
    const file = this.files.get(id);
    // A file whose own path is broken has its finding there.
    if (file === undefined && !Object.hasOwn(this.document.data.files, id)) this.faults.noFile(id, path, setting);
    return file;
  }

  private entry(setting: SettingDefinition, written: EntryWritten, path: Path): CompiledEntry | undefined {
    const { versions } = written;
    if (versions !== undefined) {
      const bad = badRange(versions);
      if (bad !== undefined) {
        this.faults.at(
          'bad-version-range',
          [...path, 'versions'],
          `${JSON.stringify(versions)} cannot be read: ${bad}.`,
          'Write it as in versions: ">=2.1 <3".',
          setting.id,
        );
        return undefined;
      }
    }
    const place = this.document.place(path);
    const template = this.templateEntry(setting, written, path);
    if (template !== undefined)
      return { place, versions, scopes: [fileScope(template)], writes: [], templateFile: template };
    const list = written.writes;
    const made =
      list === undefined
        ? [this.write(setting, written, path)]
        : list.map((write, at) =>
            this.write(setting, { ...(written.file === undefined ? {} : { file: written.file }), ...write }, [
              ...path,
              'writes',
              at,
            ]),
          );
    const writes = made.filter((write) => write !== undefined);
    // A setting whose one key is broken is not half said.
    if (writes.length < made.length || writes.length === 0) return undefined;
    const scopes = [...(writes[0]?.files.keys() ?? [])].filter((scope) =>
      writes.every((write) => write.files.has(scope)),
    );
    if (scopes.length === 0) {
      this.faults.at(
        'bad-key-map',
        path,
        'Its keys are said at different scopes, so they can never be written together.',
        'Give each of the writes a file of the same scopes.',
        setting.id,
      );
      return undefined;
    }
    return { place, versions, scopes, writes, templateFile: undefined };
  }

  /** `{ file: wifi }` alone, where the file is made from a template. */
  private templateEntry(setting: SettingDefinition, written: EntryWritten, path: Path): CompiledFile | undefined {
    if (typeof written.file !== 'string' || written.key !== undefined || written.writes !== undefined) return undefined;
    if (codecKinds.some((kind) => written[kind.name] !== undefined)) return undefined;
    if (!Object.hasOwn(this.document.data.files, written.file)) return undefined;
    const file = this.fileById(written.file, [...path, 'file'], setting.id);
    return file?.written.syntax === 'template' ? file : undefined;
  }

  private write(setting: SettingDefinition, written: WriteWritten, path: Path): CompiledWrite | undefined {
    const before = this.findings.length;
    const { key, file } = written;
    const asked = codecKinds.filter((kind) => written[kind.name] !== undefined);
    const [kind] = asked;
    if (kind === undefined || asked.length > 1) {
      this.faults.at(
        'one-codec-wanted',
        path,
        kind === undefined
          ? 'It does not say how values become text.'
          : `It says so in ${asked.length} ways: ${asked.map((one) => one.name).join(', ')}.`,
        kind === undefined
          ? `Add one of ${codecKinds.map((one) => one.name).join(', ')}.`
          : 'Keep one of them; several keys of one setting go under writes.',
        setting.id,
      );
    }
    if (file === undefined)
      this.faults.at(
        'unknown-dialect-file',
        path,
        'It does not say which file holds the key.',
        'Add file, with an id from files.',
        setting.id,
      );
    const keys = this.keys(setting, written, path);
    const forms = new Set(keys.map((entry) => entry.slot).filter((slot) => slot !== undefined));
    if (kind !== undefined && !kind.fits.includes(setting.type.kind)) {
      const fitting = codecKinds.filter((one) => one.fits.includes(setting.type.kind)).map((one) => one.name);
      this.faults.at(
        'wrong-codec',
        [...path, kind.name],
        `${setting.id} is ${kindWords[setting.type.kind]}, and the codec ${kind.name} cannot say that.`,
        fitting.length === 0 ? 'Say it in a file made from a template.' : `Use ${fitting.join(' or ')}.`,
        setting.id,
      );
      return undefined;
    }
    let codec: Codec | undefined;
    if (kind !== undefined && asked.length === 1) {
      const at: Path = [...path, kind.name];
      const made = kind.make(codecsOf(written), {
        document: this.document,
        path: at,
        place: this.document.place(at),
        setting,
        keyed: written.key !== undefined,
        forms: forms.size === 0 || kind.name !== 'control' ? undefined : formsOf(keys),
      });
      this.findings.push(...(made?.findings ?? []));
      codec = made?.value;
      if (forms.size > 0 && kind.name !== 'control' && kind.name !== 'members') {
        this.faults.at(
          'bad-key-map',
          [...path, 'key'],
          `A key by kind of control goes with the codec control, not with ${kind.name}.`,
          'Write one key.',
          setting.id,
        );
      }
      if (key !== undefined && kind.name === 'members') {
        this.faults.at(
          'bad-key-map',
          [...path, 'key'],
          'The codec members has its keys in members.keys.',
          'Remove key.',
          setting.id,
        );
      }
    }
    if (keys.some((entry) => entry.manner !== undefined) && (setting.type.kind !== 'bind' || !setting.type.whiles)) {
      this.faults.at(
        'bad-key-map',
        [...path, 'key'],
        `${setting.id} is not held or toggled, so its key has no choice by while.`,
        'Write one key.',
        setting.id,
      );
    }
    const templates = this.templates(setting, keys);
    const files = this.scopes(setting, file, templates, path);
    if (this.findings.length > before || codec === undefined) return undefined;
    const tellsWhile =
      keys.some((entry) => entry.manner !== undefined) || (kind?.name === 'values' && setting.type.kind === 'bind');
    return { path, place: this.document.place(path), files, keys: templates, codec, as: written.as, tellsWhile };
  }

  /** Whether every line of the file is named by what stands before its first comma. */
  private namedByGuid(file: WriteWritten['file']): boolean {
    const ids = typeof file === 'string' ? [file] : Object.values(file ?? {});
    const { files } = this.document.data;
    return ids.every((id) => {
      const written = Object.hasOwn(files, id) ? files[id] : undefined;
      return written?.syntax === 'lines' && written.style?.separator === ',';
    });
  }

  private keys(setting: SettingDefinition, written: WriteWritten, path: Path): readonly KeyEntry[] {
    if (written.members !== undefined && written.key === undefined) {
      return Object.entries(written.members.keys).map(([word, text]) => ({
        manner: undefined,
        slot: word,
        text,
        path: [...path, 'members', 'keys', word],
      }));
    }
    if (written.mapping !== undefined && written.key === undefined && this.namedByGuid(written.file))
      return [{ manner: undefined, slot: undefined, text: `{{${ownKeyName}}}`, path: [...path, 'mapping'] }];
    if (written.key === undefined) {
      this.faults.at(
        'bad-key-map',
        path,
        'It does not say which key holds the value.',
        written.mapping === undefined
          ? 'Add key, in the path language of the file.'
          : 'Add key; or give the file syntax: lines with style: { separator: "," }, where the GUID of each line is its key.',
        setting.id,
      );
      return [];
    }
    const { keys, faults } = readKeyMap(written.key, [...path, 'key']);
    for (const fault of faults) {
      this.faults.at(
        'bad-key-map',
        [...path, 'key'],
        `The key cannot be chosen: ${fault}.`,
        'Write a key, or a map as in { held: …, toggled: … } or { button: …, axis: … }.',
        setting.id,
      );
    }
    const texts = keys.map((entry) => entry.text);
    const twice = texts.find((text, at) => texts.indexOf(text) < at);
    if (twice !== undefined) {
      this.faults.at(
        'bad-key-map',
        [...path, 'key'],
        `${JSON.stringify(twice)} stands twice in the map, so it would be both set and unset.`,
        'Give each choice a key of its own; leave out a choice that has none.',
        setting.id,
      );
    }
    return keys;
  }

  private templates(setting: SettingDefinition, keys: readonly KeyEntry[]): readonly CompiledKey[] {
    const given = setting.type.kind === 'options' ? keyNames : pathNames;
    return keys.flatMap(({ manner, slot, text, path }) => {
      const allowed = path.at(-1) === 'mapping' ? ownKeyNames : given;
      const { value, findings } = parseTemplate(this.document.place(path), text, allowed);
      this.findings.push(...findings);
      return value === undefined ? [] : [{ manner, slot, path, template: value }];
    });
  }

  /** The files by scope: as the map says, else the narrowest scope that path and keys name. */
  private scopes(
    setting: SettingDefinition,
    written: WriteWritten['file'],
    keys: readonly CompiledKey[],
    path: Path,
  ): ReadonlyMap<Scope, CompiledFile> {
    const found = new Map<Scope, CompiledFile>();
    if (written === undefined) return found;
    const names = keys.flatMap((key) => [...key.template.names]);
    const listed: readonly (readonly [string | undefined, string, Path])[] =
      typeof written === 'string'
        ? [[undefined, written, [...path, 'file']]]
        : Object.entries(written).map(([scope, id]) => [scope, id, [...path, 'file', scope]] as const);
    for (const [said, id, at] of listed) {
      const file = this.fileById(id, at, setting.id);
      if (file === undefined) continue;
      if (file.written.syntax === 'template') {
        this.faults.at(
          'unknown-dialect-file',
          at,
          `${id} is made whole from a template and has no keys.`,
          'Name a file that has keys, or give the file alone.',
          setting.id,
        );
        continue;
      }
      const meant = scopeOfNames([...names, ...file.path.names]);
      if (said !== undefined && said !== meant) {
        this.faults.at(
          'bad-key-map',
          at,
          meant === 'instance'
            ? `Neither the path nor the key of ${id} names the ${said}, so one value would reach them all.`
            : `The path or the key of ${id} names a ${meant}, so it cannot be said for the scope ${said}.`,
          meant === 'instance'
            ? `Put {{${said}.…}} into the path or the key, or give the file for instance.`
            : `Give the file for ${meant}.`,
          setting.id,
        );
        continue;
      }
      found.set(meant, file);
    }
    return found;
  }

  private computed(written: CompiledComputed['written'], path: Path): CompiledComputed | undefined {
    const before = this.findings.length;
    if (written.versions !== undefined) {
      const bad = badRange(written.versions);
      if (bad !== undefined)
        this.faults.at(
          'bad-version-range',
          [...path, 'versions'],
          `${JSON.stringify(written.versions)} cannot be read: ${bad}.`,
          'Write it as in versions: ">=2.1 <3".',
        );
    }
    written.from.forEach((id, at) => {
      if (settingById(id) === undefined) this.faults.unknownSetting(id, [...path, 'from', at]);
    });
    const file = this.fileById(written.file, [...path, 'file']);
    const key = parseTemplate(this.document.place([...path, 'key']), written.key, pathNames);
    const text = parseTemplate(this.document.place([...path, 'text']), written.text, computedNames(written.from));
    this.findings.push(...key.findings, ...text.findings);
    if (file?.written.syntax === 'template')
      this.faults.at(
        'unknown-dialect-file',
        [...path, 'file'],
        `${file.id} is made whole from a template and has no keys.`,
        'Name a file that has keys.',
      );
    if (this.findings.length > before || file === undefined || key.value === undefined || text.value === undefined)
      return undefined;
    return {
      place: this.document.place(path),
      written,
      file,
      scope: scopeOfNames([...file.path.names, ...key.value.names]),
      key: key.value,
      text: text.value,
    };
  }
}

function isList(written: EntryWritten | readonly EntryWritten[]): written is readonly EntryWritten[] {
  return Array.isArray(written);
}

/** The kinds of control that have a key, by `while`. A key for all kinds is a key for each. */
function formsOf(keys: readonly KeyEntry[]): NonNullable<Site['forms']> {
  return (manner) => {
    const fitting = keys.filter((key) => key.manner === undefined || manner === undefined || key.manner === manner);
    return new Set(fitting.flatMap((key) => (key.slot === undefined ? ['button', 'axis', 'hat'] : [key.slot])));
  };
}

function fileScope(file: CompiledFile): Scope {
  return scopeOfNames([...file.path.names]);
}

function codecsOf(written: WriteWritten): CodecsWritten {
  return written;
}
