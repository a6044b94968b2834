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
import type { FileWritten, StyleWritten } from '../vocabulary/shapes/dialect.ts';
import type { JsonPart } from './json-part.ts';
import { isStyle } from './style-shape.ts';

const text = (part: JsonPart): string => part.text();

export function syntaxIn(part: JsonPart): FileWritten['syntax'] {
  return part.word('pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines', 'template');
}

export function styleIn(part: JsonPart): StyleWritten {
  const style: unknown = part.data;
  return isStyle(style) ? style : part.fail('says what no style has');
}

function itemIn(part: JsonPart): { readonly text: string; readonly literal?: boolean } {
  const member = part.members('text', 'literal');
  const literal = member('literal').optional((flag) => flag.flag());
  return { text: member('text').text(), ...(literal === undefined ? {} : { literal }) };
}

export function keyTextIn(part: JsonPart): KeyText {
  const member = part.members('kind', 'text', 'literal', 'items');
  if (member('kind').word('scalar', 'list') === 'list')
    return { kind: 'list', items: member('items').items().map(itemIn) };
  const literal = member('literal').optional((flag) => flag.flag());
  return { kind: 'scalar', text: member('text').text(), ...(literal === undefined ? {} : { literal }) };
}

function keyTextsIn(part: JsonPart): ReadonlyMap<string, KeyText> {
  return new Map(part.pairs().map(([name, value]) => [name, keyTextIn(value)]));
}

export function targetIn(part: JsonPart): RecordTarget {
  const member = part.members('at', 'by', 'is', 'field', 'identity', 'fresh', 'whole');
  const fresh = member('fresh').optional(keyTextsIn);
  const whole = member('whole').optional((flag) => flag.flag());
  return {
    at: member('at').text(),
    by: member('by').text(),
    is: member('is').text(),
    field: member('field').text(),
    identity: keyTextsIn(member('identity')),
    ...(fresh === undefined ? {} : { fresh }),
    ...(whole === undefined ? {} : { whole }),
  };
}

export function scopeIn(part: JsonPart): ScopePoint {
  const member = part.members('core', 'system', 'game');
  const [core, system, game] = ['core', 'system', 'game'].map((name) => member(name).optional(text));
  return {
    ...(core === undefined ? {} : { core }),
    ...(system === undefined ? {} : { system }),
    ...(game === undefined ? {} : { game }),
  };
}

function heldIn(part: JsonPart): Held {
  const member = part.members('kind', 'value', 'hash', 'secrets');
  const kind = member('kind').word('text', 'absent', 'hashed', 'to-hash');
  switch (kind) {
    case 'text':
      return { kind, value: keyTextIn(member('value')) };
    case 'absent':
      return { kind };
    case 'hashed':
      return { kind, hash: member('hash').text() };
    case 'to-hash':
      return { kind, value: keyTextIn(member('value')), secrets: member('secrets').items().map(text) };
  }
}

function answerIn(part: JsonPart): Answer {
  const member = part.members('kind', 'card', 'profile');
  const kind = member('kind').word('keep-card', 'let-alone');
  return kind === 'let-alone' ? { kind } : { kind, card: heldIn(member('card')), profile: heldIn(member('profile')) };
}

function keyIn(part: JsonPart): RecordedKey {
  const member = part.members(
    ...['instance', 'file', 'key', 'record', 'setting', 'item', 'scope', 'before', 'written', 'kept', 'answer'],
  );
  const record = member('record').optional(targetIn);
  const item = member('item').optional(text);
  const kept = member('kept').optional(heldIn);
  const answer = member('answer').optional(answerIn);
  return {
    instance: member('instance').text(),
    file: member('file').text(),
    key: member('key').text(),
    ...(record === undefined ? {} : { record }),
    setting: member('setting').text(),
    ...(item === undefined ? {} : { item }),
    scope: scopeIn(member('scope')),
    before: heldIn(member('before')),
    written: heldIn(member('written')),
    ...(kept === undefined ? {} : { kept }),
    ...(answer === undefined ? {} : { answer }),
  };
}

export function fingerprintIn(part: JsonPart): Fingerprint {
  // So stood what was before us in plans of older versions.
  if (typeof part.data === 'string') return { keyed: false, hash: part.data };
  const member = part.members('keyed', 'hash');
  return { keyed: member('keyed').flag(), hash: member('hash').text() };
}

function wholeIn(part: JsonPart): RecordedWhole {
  const member = part.members('instance', 'file', 'setting', 'before', 'written', 'answer');
  const answer = member('answer').optional(answerIn);
  return {
    instance: member('instance').text(),
    file: member('file').text(),
    setting: member('setting').text(),
    before: member('before').optional(fingerprintIn),
    written: fingerprintIn(member('written')),
    ...(answer === undefined ? {} : { answer }),
  };
}

function fileIn(part: JsonPart): RecordedFile {
  const member = part.members('path', 'syntax', 'style', 'stock', 'made', 'keys', 'whole');
  return {
    path: cardPath(member('path').text()) ?? member('path').fail('is no path of a card'),
    syntax: syntaxIn(member('syntax')),
    style: member('style').optional(styleIn),
    stock: member('stock').optional(text),
    ...(member('made').optional((flag) => flag.flag()) === true ? { made: true } : {}),
    keys: member('keys').items().map(keyIn),
    whole: member('whole').optional(wholeIn),
  };
}

function instanceIn(part: JsonPart): RecordedInstance {
  const member = part.members('dialect', 'dialectVersion', 'version', 'emptyLists');
  const emptyLists = member('emptyLists').optional((lists) => lists.items().map(text));
  return {
    dialect: member('dialect').text(),
    dialectVersion: member('dialectVersion').text(),
    version: member('version').optional(text),
    ...(emptyLists === undefined ? {} : { emptyLists }),
  };
}

/** The record that a sealed plan holds. */
export function recordIn(part: JsonPart): CardRecord {
  const member = part.members('card', 'device', 'state', 'instances', 'files');
  return {
    card: member('card').text(),
    device: member('device').text(),
    state: member('state').word('written', 'pending'),
    instances: new Map(
      member('instances')
        .pairs()
        .map(([name, instance]) => [name, instanceIn(instance)] as const),
    ),
    files: member('files').items().map(fileIn),
  };
}
