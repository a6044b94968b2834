import { isAlias, isMap, isScalar, isSeq, parseAllDocuments } from 'yaml';
import type { Document as YamlDocument } from 'yaml';
import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { KeyText, RecordTarget } from '../model/compiled.ts';
import type { Fingerprint } from '../model/fingerprint.ts';
import { cardPath } from '../model/paths.ts';
import type {
  Answer,
  CardRecord,
  Held,
  RecordedFile,
  RecordedInstance,
  RecordedKey,
  RecordedWhole,
} from '../model/record.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { SourceText } from '../text/source-text.ts';
import { isStyle } from './style-shape.ts';

/** What stands in the way of reading a record, and where. */
class Unreadable extends Error {
  readonly at: number;

  constructor(what: string, at: number) {
    super(what);
    this.at = at;
  }
}

/** One value of the document, with the place of the nearest thing that is there. */
class Part {
  readonly what: string;
  private readonly node: unknown;
  private readonly at: number;

  constructor(node: unknown, what: string, above: number) {
    this.node = node;
    this.what = what;
    const range = isScalar(node) || isMap(node) || isSeq(node) || isAlias(node) ? node.range : undefined;
    this.at = range?.[0] ?? above;
  }

  fail(why: string): never {
    throw new Unreadable(`${this.what} ${why}`, this.at);
  }

  get there(): boolean {
    return this.node !== undefined;
  }

  get isText(): boolean {
    return isScalar(this.node);
  }

  /** A flag or a bare word, and no text in quotes. */
  get isPlain(): boolean {
    return isScalar(this.node) && this.node.type === 'PLAIN';
  }

  text(): string {
    if (isScalar(this.node) && typeof this.node.value === 'string') return this.node.value;
    return this.fail(this.there ? 'is no text' : 'is missing');
  }

  optional(): string | undefined {
    return this.there ? this.text() : undefined;
  }

  word<Word extends string>(...words: readonly Word[]): Word {
    const text = this.text();
    return words.find((word) => word === text) ?? this.fail(`is none of ${words.join(', ')}`);
  }

  /** Refuses members that are not known: what an older tool does not understand it must not lose. */
  members(...known: readonly string[]): (name: string) => Part {
    const all = new Map(this.entries());
    for (const [name, part] of all) if (!known.includes(name)) part.fail('is not known to this version');
    return (name) => all.get(name) ?? new Part(undefined, `${this.what} › ${name}`, this.at);
  }

  entries(): readonly (readonly [string, Part])[] {
    if (!this.there) return [];
    if (!isMap(this.node)) return this.fail('is no mapping');
    return this.node.items.map(({ key, value }) => {
      if (!isScalar(key) || typeof key.value !== 'string') return this.fail('has a key that is no text');
      const at = key.range?.[0] ?? this.at;
      return [key.value, new Part(value ?? undefined, `${this.what} › ${key.value}`, at)] as const;
    });
  }

  items(): readonly Part[] {
    if (!this.there) return [];
    if (!isSeq(this.node)) return this.fail('is no list');
    return this.node.items.map((node, index) => new Part(node, `${this.what} › ${index + 1}`, this.at));
  }
}

function textItem(part: Part): { readonly text: string; readonly literal?: boolean } {
  if (part.isText) return { text: part.text() };
  return { text: part.members('bare')('bare').text(), literal: true };
}

function keyText(part: Part): KeyText {
  const member = part.members('text', 'bare', 'list');
  if (member('list').there) return { kind: 'list', items: member('list').items().map(textItem) };
  if (member('bare').there) return { kind: 'scalar', text: member('bare').text(), literal: true };
  return { kind: 'scalar', text: member('text').text() };
}

function held(part: Part): Held {
  if (part.isText || !part.there) {
    part.word('absent');
    return { kind: 'absent' };
  }
  const hash = part.members('text', 'bare', 'list', 'hash')('hash');
  return hash.there ? { kind: 'hashed', hash: hash.text() } : { kind: 'text', value: keyText(part) };
}

function answerOf(part: Part): Answer {
  if (part.isText) return { kind: part.word('let-alone') };
  const kept = part.members('keep-card')('keep-card').members('card', 'profile');
  return { kind: 'keep-card', card: held(kept('card')), profile: held(kept('profile')) };
}

function keyTexts(part: Part): ReadonlyMap<string, KeyText> {
  return new Map(part.entries().map(([name, value]) => [name, keyText(value)]));
}

function target(part: Part): RecordTarget {
  const member = part.members('at', 'by', 'is', 'field', 'identity', 'fresh', 'whole');
  return {
    at: member('at').text(),
    by: member('by').text(),
    is: member('is').text(),
    field: member('field').text(),
    identity: keyTexts(member('identity')),
    ...(member('fresh').there ? { fresh: keyTexts(member('fresh')) } : {}),
    ...(member('whole').there ? { whole: member('whole').word('true', 'false') === 'true' } : {}),
  };
}

function scopeOf(part: Part): ScopePoint {
  const member = part.members('core', 'system', 'game');
  const [core, system, game] = ['core', 'system', 'game'].map((name) => member(name).optional());
  return {
    ...(core === undefined ? {} : { core }),
    ...(system === undefined ? {} : { system }),
    ...(game === undefined ? {} : { game }),
  };
}

function keyOf(part: Part): RecordedKey {
  const member = part.members('key', 'record', 'of', 'before', 'written', 'kept', 'answer');
  const of = member('of').members('setting', 'item', 'instance', 'file', 'scope');
  const item = of('item').optional();
  return {
    instance: of('instance').text(),
    file: of('file').text(),
    key: member('key').text(),
    ...(member('record').there ? { record: target(member('record')) } : {}),
    setting: of('setting').text(),
    ...(item === undefined ? {} : { item }),
    scope: scopeOf(of('scope')),
    before: held(member('before')),
    written: held(member('written')),
    ...(member('kept').there ? { kept: held(member('kept')) } : {}),
    ...(member('answer').there ? { answer: answerOf(member('answer')) } : {}),
  };
}

function fingerprintOf(part: Part): Fingerprint {
  // So stood what was before us in records of older versions.
  if (part.isText) return { keyed: false, hash: part.text() };
  const member = part.members('keyed', 'plain');
  const keyed = member('keyed').there;
  return { keyed, hash: member(keyed ? 'keyed' : 'plain').text() };
}

function wholeOf(part: Part): RecordedWhole {
  const member = part.members('of', 'before', 'written', 'answer');
  const of = member('of').members('setting', 'instance', 'file');
  return {
    instance: of('instance').text(),
    file: of('file').text(),
    setting: of('setting').text(),
    before: member('before').there ? fingerprintOf(member('before')) : undefined,
    written: fingerprintOf(member('written')),
    ...(member('answer').there ? { answer: answerOf(member('answer')) } : {}),
  };
}

const syntaxNames = ['pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines', 'template'] as const;

function styleOf(part: Part): RecordedFile['style'] {
  if (!part.there) return undefined;
  const style: unknown = Object.fromEntries(
    part.entries().map(([name, value]) => {
      if (!value.isText) return [name, value.items().map((item) => item.text())];
      const text = value.text();
      return [name, value.isPlain && (text === 'true' || text === 'false') ? text === 'true' : text];
    }),
  );
  return isStyle(style) ? style : part.fail('says what no style has');
}

function fileOf(part: Part): RecordedFile {
  const member = part.members('path', 'syntax', 'style', 'made', 'stock', 'whole', 'keys');
  const path = cardPath(member('path').text()) ?? member('path').fail('is no path of a card, as in games:folder/file');
  return {
    path,
    syntax: member('syntax').word(...syntaxNames),
    style: styleOf(member('style')),
    stock: member('stock').optional(),
    ...(member('made').there && member('made').word('true') === 'true' ? { made: true } : {}),
    keys: member('keys').items().map(keyOf),
    whole: member('whole').there ? wholeOf(member('whole')) : undefined,
  };
}

function instanceOf([name, part]: readonly [string, Part]): readonly [string, RecordedInstance] {
  const member = part.members('dialect', 'dialect-version', 'version', 'empty-lists');
  return [
    name,
    {
      dialect: member('dialect').text(),
      dialectVersion: member('dialect-version').text(),
      version: member('version').optional(),
      ...(member('empty-lists').there
        ? {
            emptyLists: member('empty-lists')
              .items()
              .map((item) => item.text()),
          }
        : {}),
    },
  ];
}

function recordOf(part: Part): CardRecord {
  const member = part.members('record', 'format', 'card', 'device', 'state', 'instances', 'files', 'end');
  member('record').word('thumbwright');
  if (member('format').text() !== '1') member('format').fail('is that of another version of this tool');
  if (!member('end').there) part.fail('is cut off: its last line, end: record, is missing');
  member('end').word('record');
  return {
    card: member('card').text(),
    device: member('device').text(),
    state: member('state').word('written', 'pending'),
    instances: new Map(member('instances').entries().map(instanceOf)),
    files: member('files').items().map(fileOf),
  };
}

function parsed(source: SourceText): YamlDocument {
  const [document, second] = [
    ...parseAllDocuments(source.text, {
      schema: 'failsafe',
      prettyErrors: false,
      logLevel: 'silent',
      strict: true,
    }),
  ];
  if (document === undefined) throw new Unreadable('Nothing is in the record', 0);
  const [error] = document.errors;
  if (error !== undefined) throw new Unreadable('It cannot be read as YAML', error.pos[0]);
  if (second !== undefined) throw new Unreadable('It holds several documents', second.range[0]);
  return document;
}

/** A card's record as `printRecord` prints it. Error: `bad-record`, at the first thing that is wrong. */
export function readRecord(source: SourceText): Outcome<CardRecord | undefined> {
  try {
    return { value: recordOf(new Part(parsed(source).contents ?? undefined, 'The record', 0)), findings: [] };
  } catch (error) {
    // The parser works by recursion: only nesting far beyond any record makes a RangeError.
    if (!(error instanceof Unreadable) && !(error instanceof RangeError)) throw error;
    const start = error instanceof Unreadable ? Math.min(error.at, source.text.length) : 0;
    const what = error instanceof Unreadable ? error.message : 'It is nested too deeply';
    return {
      value: undefined,
      findings: [
        makeFinding('bad-record', {
          place: { source, span: { start, end: start } },
          detail: `${what}. Without its record, a card's keys cannot be told from changes made by hand.`,
          wayOut: `Restore ${source.name} from your version control. Without a copy, remove it: the next write then takes the card as it stands for what stood before.`,
        }),
      ],
    };
  }
}
