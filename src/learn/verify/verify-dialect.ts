import type { KeyLookup, KeyWrite, Lens, ReadBack, ScopePoint } from '../../dialect/contract.ts';
import { styleOf } from '../../dialect/style-of.ts';
import type { CardPath } from '../../model/paths.ts';
import { sameValue } from '../../model/value.ts';
import type { Value } from '../../model/value.ts';
import type { Change, Syntax, SyntaxName, Tree } from '../../syntax/contract.ts';
import { applyEdits } from '../../text/text-edit.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { settingById } from '../../vocabulary/registry.ts';
import type { FileWritten } from '../../vocabulary/shapes/dialect.ts';
import { trialValues } from './trial-values.ts';

/** A dialect, and the files to play it through on. */
export interface VerifyInput {
  readonly lens: Lens;
  readonly files: Readonly<Record<string, FileWritten>>;
  /** What stands in the folder; undefined where a file is not there. */
  readonly text: (path: CardPath) => SourceText | undefined;
  readonly syntaxes: Readonly<Record<SyntaxName, Syntax>>;
  /** Those that hotkeys may be put on: without the hold control. */
  readonly controls: readonly Position[];
}

/** What came of setting a setting to one value. */
export type Trial =
  | { readonly kind: 'reads-back'; readonly value: Value }
  /** The dialect says that it comes near only, and what it comes to stays as it is when set again. */
  | { readonly kind: 'near'; readonly value: Value; readonly how: string }
  /** What it is spelled as is what another value is spelled as too: it comes back only to who knows what it was. */
  | { readonly kind: 'ambiguous'; readonly value: Value; readonly read: ReadBack }
  /** The dialect cannot say it, and says so: nothing is wrong. */
  | { readonly kind: 'unsaid'; readonly value: Value; readonly why: string }
  /** The file cannot take it. */
  | { readonly kind: 'refused'; readonly value: Value; readonly why: string }
  | { readonly kind: 'reads-otherwise'; readonly value: Value; readonly read: ReadBack }
  /** Setting it made other settings read otherwise than before. */
  | { readonly kind: 'disturbs'; readonly value: Value; readonly others: readonly string[] };

/** One setting of the dialect at the frontend as a whole. */
export interface Verified {
  readonly setting: string;
  readonly now: ReadBack;
  readonly trials: readonly Trial[];
}

/** Whether the dialect did not do what it says. */
export function isFault({ kind }: Trial): boolean {
  return kind === 'refused' || kind === 'reads-otherwise' || kind === 'disturbs';
}

const whole: ScopePoint = {};

/**
 * Plays a dialect through on files as they are: reads every setting, sets each to one value after the other, and reads
 * again, all in memory. That no other byte moves is the syntax's own law; that no other setting moves is seen here.
 * Settings that lists of records or whole files say are read only.
 */
export function verifyDialect(input: VerifyInput): readonly Verified[] {
  const texts = new Texts(input);
  const ids = input.lens.settings();
  const now = new Map(ids.map((id) => [id, readNoting(input.lens, id, texts.look)]));
  return ids.map((setting) => {
    const definition = settingById(setting);
    const values = definition === undefined ? [] : trialValues(definition, input.controls);
    return {
      setting,
      now: now.get(setting)?.read ?? { kind: 'absent' },
      trials: values.flatMap((value) => tryValue(input, texts, now, setting, value) ?? []),
    };
  });
}

/** What a setting reads as, and the keys that were looked at for it: only a change of those can change it. */
interface Noted {
  readonly read: ReadBack;
  readonly keys: ReadonlySet<string>;
}

function keyId(path: CardPath, key: string): string {
  return `${path}\n${key}`;
}

function readNoting(lens: Lens, id: string, look: KeyLookup): Noted {
  const keys = new Set<string>();
  const read = lens.read(id, whole, (path, key) => {
    keys.add(keyId(path, key));
    return look(path, key);
  });
  return { read, keys };
}

/** Undefined where the value is said by no key of its own. */
function tryValue(
  { lens }: VerifyInput,
  texts: Texts,
  now: ReadonlyMap<string, Noted>,
  setting: string,
  value: Value,
): Trial | undefined {
  const spelled = lens.spell(setting, value, whole);
  if (spelled.kind === 'cannot') return { kind: 'unsaid', value, why: spelled.why };
  const { writes } = spelled;
  if (writes.length === 0 || writes.some(({ record }) => record !== undefined)) return undefined;
  const changed = texts.with(writes);
  if (typeof changed === 'string') return { kind: 'refused', value, why: changed };
  const read = lens.read(setting, whole, changed.look, value);
  if (spelled.kind === 'exact') {
    if (read.kind === 'value' && !sameValue(read.value, value)) return { kind: 'reads-otherwise', value, read };
    // What is not there may be how `none` is said.
    if (read.kind !== 'value' && !(read.kind === 'absent' && value.kind === 'none'))
      return { kind: 'reads-otherwise', value, read };
  } else if (read.kind !== 'value' || !saysSame(lens, setting, read.value, writes))
    return { kind: 'reads-otherwise', value, read };
  const touched = writes.map(({ path, key }) => keyId(path, key));
  const others = [...now].flatMap(([id, before]) => {
    const mayChange = id !== setting && !isWithin(lens, id, before.read) && touched.some((key) => before.keys.has(key));
    return mayChange && !alike(before.read, lens.read(id, whole, changed.look)) ? [id] : [];
  });
  if (others.length > 0) return { kind: 'disturbs', value, others };
  if (spelled.kind === 'approximated') return { kind: 'near', value, how: spelled.how };
  const afresh = lens.read(setting, whole, changed.look);
  return alike(read, afresh) ? { kind: 'reads-back', value } : { kind: 'ambiguous', value, read: afresh };
}

/** A hold control that is said within every chord has no key of its own, and goes with them. */
function isWithin(lens: Lens, setting: string, read: ReadBack): boolean {
  if (setting !== 'hotkeys.hold' || read.kind !== 'value') return setting === 'hotkeys.hold';
  const spelled = lens.spell(setting, read.value, whole);
  return spelled.kind === 'exact' && spelled.writes.length === 0;
}

function saysSame(lens: Lens, setting: string, value: Value, writes: readonly KeyWrite[]): boolean {
  const again = lens.spell(setting, value, whole);
  return again.kind !== 'cannot' && JSON.stringify(textsOf(again.writes)) === JSON.stringify(textsOf(writes));
}

function textsOf(writes: readonly KeyWrite[]): readonly unknown[] {
  return writes.map(({ path, key, value }) => [path, key, value]);
}

function alike(a: ReadBack, b: ReadBack): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

/** The files, each parsed once, and what they would be with some keys changed. */
class Texts {
  readonly #input: VerifyInput;
  readonly #trees = new Map<CardPath, Parsed | undefined>();
  readonly #specs = new Map<CardPath, FileWritten>();

  constructor(input: VerifyInput) {
    this.#input = input;
    for (const [id, file] of Object.entries(input.files)) {
      const path = input.lens.path(id, whole);
      if (path !== undefined) this.#specs.set(path, file);
    }
  }

  readonly look: KeyLookup = (path, key) => lookIn(this.#parsed(path), key);

  /** The files with these keys; a sentence where one of them cannot be written. */
  with(writes: readonly KeyWrite[]): { readonly look: KeyLookup } | string {
    const changed = new Map<CardPath, Parsed>();
    for (const path of new Set(writes.map((write) => write.path))) {
      const spec = this.#specs.get(path);
      if (spec === undefined) return `the dialect has no file at ${path}`;
      const syntax = this.#input.syntaxes[spec.syntax];
      const parsed = this.#parsed(path) ?? parse(syntax, spec, { name: path, text: '' });
      if (parsed === undefined) return `${path} cannot be read as ${spec.syntax}`;
      const changes = writes
        .filter((write) => write.path === path)
        .map(({ key, value }): Change =>
          value === undefined ? { op: 'remove', path: key } : { op: 'set', path: key, value },
        );
      const { edits, results } = syntax.change(parsed.tree, changes);
      for (const result of results) if (result.kind === 'refused') return result.finding.detail;
      const text = applyEdits(parsed.source.text, edits);
      const again = parse(syntax, spec, { name: path, text });
      if (again === undefined) return `${path} cannot be read any more`;
      changed.set(path, again);
    }
    return { look: (path, key) => lookIn(changed.get(path) ?? this.#parsed(path), key) };
  }

  #parsed(path: CardPath): Parsed | undefined {
    if (!this.#trees.has(path)) {
      const spec = this.#specs.get(path);
      const source = this.#input.text(path);
      const known = spec !== undefined && source !== undefined;
      this.#trees.set(path, known ? parse(this.#input.syntaxes[spec.syntax], spec, source) : undefined);
    }
    return this.#trees.get(path);
  }
}

interface Parsed {
  readonly source: SourceText;
  readonly tree: Tree;
}

function parse(syntax: Syntax, spec: FileWritten, source: SourceText): Parsed | undefined {
  const { tree } = syntax.parse(source, styleOf(spec.style));
  return tree === undefined ? undefined : { source, tree };
}

/** The empty key is the whole text, as the lens asks for what is made from a template. */
function lookIn(parsed: Parsed | undefined, key: string): ReturnType<KeyLookup> {
  if (parsed === undefined) return undefined;
  return key === '' ? { kind: 'scalar', text: parsed.source.text } : parsed.tree.get(key);
}
