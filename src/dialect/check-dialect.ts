import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { nearestNames } from '../diagnostics/nearest.ts';
import type { DialectDocument, Path } from '../model/document.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { Place } from '../text/place.ts';
import type { SourceText } from '../text/source-text.ts';
import { isPosition, positions } from '../vocabulary/positions.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { Scope } from '../vocabulary/types.ts';
import { compileDialect } from './compile-dialect.ts';
import type { CompiledDialect, CompiledEntry, CompiledFile } from './compiled-dialect.ts';
import { Faults } from './faults.ts';
import { badPattern } from './detect.ts';
import { checkRecords } from './check-records.ts';
import { badRange } from './frontend-version.ts';
import { eachFileNames, fileNames, saveNames } from './template/names.ts';
import { parseTemplate } from './template/parse-template.ts';
import type { AllowedNames, Template } from './template/template.ts';
import { unlearntWords } from './unlearnt.ts';

/**
 * What is wrong with a dialect beyond its shape, each finding at its place in the dialect: names, files, codecs, keys,
 * scopes, templates, patterns, ranges, and which values have no spelling yet. `templates` are the texts of its
 * template files by the name in `template:`.
 */
export function checkDialect(
  document: DialectDocument,
  templates: ReadonlyMap<string, SourceText>,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
): readonly Finding[] {
  const compiled = compileDialect(document);
  const check = new Check(document, compiled, templates, syntaxes);
  return [...compiled.findings, ...check.run()];
}

class Check {
  private readonly faults: Faults;
  private readonly findings: Finding[];
  private readonly document: DialectDocument;
  private readonly compiled: CompiledDialect;
  private readonly templates: ReadonlyMap<string, SourceText>;
  private readonly syntaxes: Readonly<Record<SyntaxName, Syntax>>;

  constructor(
    document: DialectDocument,
    compiled: CompiledDialect,
    templates: ReadonlyMap<string, SourceText>,
    syntaxes: Readonly<Record<SyntaxName, Syntax>>,
  ) {
    this.document = document;
    this.faults = new Faults(document);
    this.findings = this.faults.findings;
    this.compiled = compiled;
    this.templates = templates;
    this.syntaxes = syntaxes;
  }

  run(): readonly Finding[] {
    for (const file of this.compiled.files.values()) this.file(file);
    for (const [setting, entries] of this.compiled.entries) this.entries(setting, entries);
    for (const [setting, records] of this.compiled.records) {
      this.findings.push(...checkRecords(setting, records, this.document, this.syntaxes));
    }
    this.computed();
    this.ranges();
    this.detect();
    this.controls();
    this.saves();
    this.moved();
    return this.findings;
  }

  private at(path: Path): Place {
    return this.document.place(path);
  }

  private file(file: CompiledFile): void {
    const { id, written } = file;
    this.path(file.path, this.at(['files', id, 'path']));
    if (written.syntax === 'template') this.templateFile(file);
    else if (written.each !== undefined) {
      this.faults.in(
        'bad-codec',
        this.at(['files', id, 'each']),
        `${id} has keys of its own; only a file made from a template is made once for each item.`,
        'Remove each, or make it syntax: template.',
      );
    }
    if (written.each !== undefined && settingById(written.each)?.type.kind !== 'networks') {
      this.faults.in(
        'bad-codec',
        this.at(['files', id, 'each']),
        `Files are made for each network, not for each item of ${written.each}.`,
        'Write each: network.networks.',
      );
    }
    if (written.mode !== undefined && !/^0?[0-7]{3}$/.test(written.mode)) {
      this.faults.in(
        'bad-codec',
        this.at(['files', id, 'mode']),
        `${JSON.stringify(written.mode)} is no file mode.`,
        'Write three octal digits, as in mode: "600".',
      );
    }
    const from = written['generated-from'];
    for (const other of from === undefined ? [] : typeof from === 'string' ? [from] : from) {
      if (!Object.hasOwn(this.document.data.files, other)) this.faults.noFile(other, ['files', id, 'generated-from']);
    }
  }

  private templateFile(file: CompiledFile): void {
    const { id, written } = file;
    const name = written.template;
    if (name === undefined) {
      this.faults.in(
        'bad-codec',
        this.at(['files', id]),
        'It does not name the template that it is made from.',
        `Add template, the name of a file beside the dialect, as in template: ${id}.hbs.`,
      );
      return;
    }
    if (name.includes('/') || name.includes('\\') || name.startsWith('.')) {
      this.faults.in(
        'path-leaves-card',
        this.at(['files', id, 'template']),
        `${JSON.stringify(name)} is not a file beside the dialect.`,
        'Put the template beside the dialect and give its name alone.',
      );
      return;
    }
    const source = this.templates.get(name);
    if (source === undefined) return;
    const allowed = written.each === undefined ? fileNames : eachFileNames;
    this.template(source.text, { source, span: { start: 0, end: source.text.length } }, allowed);
  }

  private template(text: string, place: Place, allowed: AllowedNames): Template | undefined {
    const { value, findings } = parseTemplate(place, text, allowed);
    this.findings.push(...findings);
    return value;
  }

  /** A path begins with a root or names its part, and stays there whatever the names hold. */
  private path(template: Template, place: Place): void {
    const [first] = template.nodes;
    const rooted = first?.kind === 'insert' && ['root', 'games-root', 'firmware-root'].includes(first.name);
    const parted = first?.kind === 'text' && /^[a-z0-9]+(-[a-z0-9]+)*:/.test(first.text);
    if (!rooted && !parted) {
      this.faults.in(
        'path-leaves-card',
        place,
        `${JSON.stringify(template.text)} does not say which part of the card it is on.`,
        'Begin it with {{root}}/, {{games-root}}/ or the name of a part and a colon.',
      );
      return;
    }
    const texts = template.nodes.map((node) => (node.kind === 'text' ? node.text : 'x')).join('');
    const members = texts.replace(/^[a-z0-9-]+:/, '').split('/');
    const bad = members.find(
      (member, at) =>
        member === '..' || member === '.' || (member === '' && at > 0) || /[\\:\u0000-\u001f\u007f]/.test(member),
    );
    if (bad !== undefined) {
      this.faults.in(
        'path-leaves-card',
        place,
        `${JSON.stringify(template.text)} holds ${bad === '' ? 'an empty member' : JSON.stringify(bad)}, and a path stays within its part.`,
        'Write the path forwards, with single slashes.',
      );
    }
  }

  private key(template: Template, syntax: SyntaxName, place: Place, setting?: string): void {
    // Names of the usual kind: letters alone. What real names do is seen where they are known.
    const made = template.render(
      () => 'x',
      (text) => text,
    );
    const bad = made.kind === 'text' ? this.syntaxes[syntax].badPath(made.text) : undefined;
    if (bad !== undefined) {
      this.faults.in(
        'bad-key-path',
        place,
        `${JSON.stringify(template.text)} is no key of a ${syntax} file: ${bad.replace(/\.$/, '')}.`,
        `Write the key as ${syntax} files name keys.`,
        setting,
      );
    }
  }

  private entries(id: string, entries: readonly CompiledEntry[]): void {
    const setting = settingById(id);
    if (setting === undefined) return;
    for (const entry of entries) {
      for (const write of entry.writes) {
        for (const file of new Set(write.files.values())) {
          for (const key of write.keys) this.key(key.template, file.written.syntax, this.at(key.path), id);
          if (file.written['generated-from'] !== undefined) {
            this.faults.in(
              'unknown-dialect-file',
              this.at([...write.path, 'file']),
              `The frontend makes ${file.id} anew from other files, so what is written there is lost.`,
              'Name the file that it is made from.',
              id,
            );
          }
        }
        const missing = unlearntWords(write, setting, this.document);
        if (missing.length > 0) {
          this.faults.in(
            'not-all-learnt',
            write.place,
            `${id} has no spelling yet for ${missing.join(', ')}.`,
            'Choose the value once on the device and run thumbwright learn on both copies of its files, or add the spelling.',
            id,
          );
        }
      }
      for (const scope of entry.scopes) this.scope(scope, entry, id);
    }
    // Two that hold at one version and one scope: the second is never used.
    entries.forEach((entry, at) => {
      const before = entries
        .slice(0, at)
        .find(
          (other) => other.versions === entry.versions && entry.scopes.some((scope) => other.scopes.includes(scope)),
        );
      if (before !== undefined) {
        this.findings.push(
          makeFinding('bad-key-map', {
            place: entry.place,
            related: [{ place: before.place, note: 'the one that is used' }],
            setting: id,
            detail: `${id} is spelled twice for the same versions and scope.`,
            wayOut: 'Give each spelling versions of its own, or put several keys under writes.',
          }),
        );
      }
    });
  }

  private scope(scope: Scope, entry: CompiledEntry, id: string): void {
    const { order } = this.document.data;
    if (order === undefined || order.includes(scope)) return;
    this.faults.in(
      'scope-not-read',
      entry.place,
      `${id} is said for one ${scope}, which is not in order (${order.join(', ')}), so it is not known when the frontend reads it.`,
      `Add ${scope} to order, where the frontend reads it.`,
      id,
    );
  }

  private computed(): void {
    (this.document.data.computed ?? []).forEach((written, at) => {
      const known = this.compiled.computed.find((entry) => entry.written === written);
      if (known === undefined) return;
      this.key(known.key, known.file.written.syntax, this.at(['computed', at, 'key']));
      for (const id of written.from) {
        if (!known.text.names.has(`values.${id}`)) {
          this.faults.in(
            'bad-codec',
            this.at(['computed', at, 'from']),
            `The text does not use ${id}.`,
            `Put {{values.[${id}]}} into the text, or remove ${id} from it.`,
          );
        }
      }
      for (const id of Object.keys(written.spell ?? {})) {
        if (!written.from.includes(id))
          this.faults.in(
            'bad-codec',
            this.at(['computed', at, 'spell', id]),
            `${id} is not among the settings that the key is made from.`,
            `Add ${id} to from, or remove its spellings.`,
          );
      }
    });
  }

  private ranges(): void {
    const { data } = this.document;
    const ranges: readonly (readonly [string, Path])[] = [
      [data['for-versions'], ['for-versions']],
      ...(data.moved ?? []).map((moved, at) => [moved.versions, ['moved', at, 'versions']] as const),
    ];
    for (const [range, path] of ranges) {
      const bad = badRange(range);
      if (bad !== undefined)
        this.faults.in(
          'bad-version-range',
          this.at(path),
          `${JSON.stringify(range)} cannot be read: ${bad}.`,
          'Write it as in ">=2.0 <3".',
        );
    }
  }

  private detect(): void {
    const { detect } = this.document.data;
    if (detect === undefined) return;
    const bad = badPattern(detect.pattern);
    if (bad !== undefined) {
      this.faults.in(
        'bad-detect-pattern',
        this.at(['detect', 'pattern']),
        `The pattern cannot be used: ${bad}.`,
        "Write a simple pattern with one group, as in 'Harrow ([0-9.]+)'.",
      );
    }
    const place = this.at(['detect', 'file']);
    const path = this.template(detect.file, place, saveNames);
    if (path !== undefined) this.path(path, place);
  }

  private controls(): void {
    const { controls } = this.document.data;
    const written = controls?.numbering;
    const table = typeof written === 'object' ? written.table : undefined;
    if (typeof written === 'object' && written.order === 'table' && table === undefined) {
      this.faults.in(
        'bad-codec',
        this.at(['controls', 'numbering']),
        'A numbering by table needs the table.',
        'Add table, as in table: { south: pad-b }.',
      );
    }
    for (const name of Object.keys(table ?? {})) {
      if (isPosition(name)) continue;
      const near = nearestNames(name, positions);
      this.faults.in(
        'bad-codec',
        this.document.keyPlace(['controls', 'numbering', 'table', name]),
        `${JSON.stringify(name)} is no position.`,
        near.length > 0 ? `Write ${near.join(' or ')}.` : 'Use positions such as south, dpad-up or start.',
      );
    }
    if (controls?.chord?.join === '') {
      this.faults.in(
        'bad-codec',
        this.at(['controls', 'chord', 'join']),
        'With nothing between them the controls of a chord run together.',
        'Write what joins them, as in join: "+".',
      );
    }
  }

  private saves(): void {
    const { saves, states } = this.document.data;
    const check = (kind: 'saves' | 'states', at: number, entry: NonNullable<typeof states>[number]): void => {
      const folder = this.template(entry.folder, this.at([kind, at, 'folder']), saveNames);
      if (folder !== undefined) this.path(folder, this.at([kind, at, 'folder']));
      this.template(entry.name, this.at([kind, at, 'name']), saveNames);
      if (entry.picture !== undefined) this.template(entry.picture, this.at([kind, at, 'picture']), saveNames);
      if (entry.when !== undefined && !Object.hasOwn(this.document.data.files, entry.when.file))
        this.faults.noFile(entry.when.file, [kind, at, 'when', 'file']);
      if (entry.slots !== undefined && !/^[0-9]{1,4}\.\.[0-9]{1,4}$/.test(entry.slots)) {
        this.faults.in(
          'bad-codec',
          this.at([kind, at, 'slots']),
          `${JSON.stringify(entry.slots)} is no range of slots.`,
          'Write the first and the last, as in slots: 0..9.',
        );
      }
    };
    saves?.forEach((entry, at) => check('saves', at, entry));
    states?.forEach((entry, at) => check('states', at, entry));
  }

  private moved(): void {
    (this.document.data.moved ?? []).forEach((moved, at) => {
      for (const id of Object.keys(moved.value ?? {})) {
        if (settingById(id) === undefined) this.faults.unknownSetting(id, ['moved', at, 'value', id]);
      }
      for (const id of Object.keys(moved.key ?? {}))
        if (!Object.hasOwn(this.document.data.files, id)) this.faults.noFile(id, ['moved', at, 'key', id]);
      for (const kind of ['file', 'folder'] as const) {
        for (const [old, to] of Object.entries(moved[kind] ?? {})) {
          const bad = [old, to].find(
            (path) =>
              path.split('/').some((member) => member === '' || member === '.' || member === '..') ||
              /[\\:\u0000-\u001f\u007f]/.test(path),
          );
          if (bad !== undefined) {
            this.faults.in(
              'path-leaves-card',
              this.at(['moved', at, kind, old]),
              `${JSON.stringify(bad)} is no path below the root.`,
              'Write the path forwards, relative to the root, with single slashes.',
            );
          }
        }
      }
    });
  }
}
