import type { Fingerprint } from '../model/fingerprint.ts';
import type { KeyText, RecordTarget } from '../model/compiled.ts';
import type { Answer, CardRecord, Held, RecordedFile, RecordedInstance, RecordedKey } from '../model/record.ts';
import type { ScopePoint } from '../model/resolved.ts';
import { placeIn } from './subject.ts';

/** Characters that YAML does not print (YAML 1.2.2, production 1), those that end a line for some, and lone surrogates. */
const unprintable =
  /[\u0000-\u001f\u007f-\u00a0\u2028\u2029\ufeff\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** A YAML scalar of one line: plain where no reader could take it for anything but a text, else in double quotes. */
function scalar(text: string): string {
  if (
    /^[A-Za-z_]([A-Za-z0-9_./:-]*[A-Za-z0-9_./-])?$/.test(text) &&
    !/^(?:true|false|null|yes|no|on|off|y|n)$/i.test(text)
  )
    return text;
  const inner = text
    .replace(/[\\"]/g, (character) => `\\${character}`)
    .replace(unprintable, (character) =>
      character === '\n'
        ? '\\n'
        : character === '\t'
          ? '\\t'
          : `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
    );
  return `"${inner}"`;
}

function flow(members: readonly (readonly [string, string])[]): string {
  return members.length === 0 ? '{}' : `{ ${members.map(([name, text]) => `${name}: ${text}`).join(', ')} }`;
}

function item({ text, literal }: { readonly text: string; readonly literal?: boolean }): string {
  return literal === true ? flow([['bare', scalar(text)]]) : scalar(text);
}

function keyText(value: KeyText): readonly [string, string] {
  if (value.kind === 'list') return ['list', `[${value.items.map(item).join(', ')}]`];
  return [value.literal === true ? 'bare' : 'text', scalar(value.text)];
}

function held(content: Held): string {
  switch (content.kind) {
    case 'absent':
      return 'absent';
    case 'text':
      return flow([keyText(content.value)]);
    case 'hashed':
      return flow([['hash', scalar(content.hash)]]);
    case 'to-hash':
      throw new Error('A record is kept before it is settled. This is a bug in thumbwright.');
  }
}

function answerText(answer: Answer): string {
  return answer.kind === 'let-alone'
    ? 'let-alone'
    : flow([
        [
          'keep-card',
          flow([
            ['card', held(answer.card)],
            ['profile', held(answer.profile)],
          ]),
        ],
      ]);
}

function texts(fields: ReadonlyMap<string, KeyText>): string {
  return flow([...fields].map(([name, value]) => [scalar(name), flow([keyText(value)])] as const));
}

function target({ at, by, is, field, identity, fresh, whole }: RecordTarget): string {
  return flow([
    ['at', scalar(at)],
    ['by', scalar(by)],
    ['is', scalar(is)],
    ['field', scalar(field)],
    ...(identity.size === 0 ? [] : [['identity', texts(identity)] as const]),
    ...(fresh === undefined ? [] : [['fresh', texts(fresh)] as const]),
    ...(whole === undefined ? [] : [['whole', String(whole)] as const]),
  ]);
}

function scopeText({ core, system, game }: ScopePoint): readonly (readonly [string, string])[] {
  const members = [
    ['core', core],
    ['system', system],
    ['game', game],
  ] as const;
  return members.flatMap(([name, text]) => (text === undefined ? [] : [[name, scalar(text)] as const]));
}

function keyLines(key: RecordedKey): readonly string[] {
  const scope = scopeText(key.scope);
  return [
    `      - key: ${scalar(key.key)}`,
    ...(key.record === undefined ? [] : [`        record: ${target(key.record)}`]),
    `        of: ${flow([
      ['setting', scalar(key.setting)],
      ...(key.item === undefined ? [] : [['item', scalar(key.item)] as const]),
      ['instance', scalar(key.instance)],
      ['file', scalar(key.file)],
      ...(scope.length === 0 ? [] : [['scope', flow(scope)] as const]),
    ])}`,
    `        before: ${held(key.before)}`,
    `        written: ${held(key.written)}`,
    ...(key.kept === undefined ? [] : [`        kept: ${held(key.kept)}`]),
    ...(key.answer === undefined ? [] : [`        answer: ${answerText(key.answer)}`]),
  ];
}

function styleText(style: NonNullable<RecordedFile['style']>): string {
  return flow(
    Object.entries(style)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([name, value]) => {
        if (value === undefined) return [];
        if (typeof value === 'boolean') return [[name, String(value)] as const];
        return [[name, typeof value === 'string' ? scalar(value) : `[${value.map(scalar).join(', ')}]`] as const];
      }),
  );
}

function fingerprint({ keyed, hash }: Fingerprint): string {
  return flow([[keyed ? 'keyed' : 'plain', scalar(hash)]]);
}

function fileLines(file: RecordedFile): readonly string[] {
  const { whole } = file;
  return [
    `  - path: ${scalar(file.path)}`,
    `    syntax: ${file.syntax}`,
    ...(file.style === undefined ? [] : [`    style: ${styleText(file.style)}`]),
    ...(file.made === true ? ['    made: true'] : []),
    ...(file.stock === undefined ? [] : [`    stock: ${scalar(file.stock)}`]),
    ...(whole === undefined
      ? []
      : [
          '    whole:',
          `      of: ${flow([
            ['setting', scalar(whole.setting)],
            ['instance', scalar(whole.instance)],
            ['file', scalar(whole.file)],
          ])}`,
          ...(whole.before === undefined ? [] : [`      before: ${fingerprint(whole.before)}`]),
          `      written: ${fingerprint(whole.written)}`,
          ...(whole.answer === undefined ? [] : [`      answer: ${answerText(whole.answer)}`]),
        ]),
    ...(file.keys.length === 0
      ? []
      : ['    keys:', ...[...file.keys].sort((a, b) => order(placeIn(a), placeIn(b))).flatMap(keyLines)]),
  ];
}

function instanceLine([name, instance]: readonly [string, RecordedInstance]): string {
  const { dialect, dialectVersion, version, emptyLists } = instance;
  return `  ${scalar(name)}: ${flow([
    ['dialect', scalar(dialect)],
    ['dialect-version', scalar(dialectVersion)],
    ...(version === undefined ? [] : [['version', scalar(version)] as const]),
    ...(emptyLists === undefined ? [] : [['empty-lists', `[${emptyLists.map(scalar).join(', ')}]`] as const]),
  ])}`;
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * The text of a card's record: sorted, so that two writes of one state give one text and a change of one key is a change
 * of its lines. Throws where it holds what only a plan may (`settleRecord`).
 */
export function printRecord(record: CardRecord): string {
  const instances = [...record.instances].sort(([a], [b]) => order(a, b));
  const files = [...record.files].sort((a, b) => order(a.path, b.path));
  return [
    'record: thumbwright',
    'format: 1',
    `card: ${scalar(record.card)}`,
    `device: ${scalar(record.device)}`,
    `state: ${record.state}`,
    ...(instances.length === 0 ? [] : ['instances:', ...instances.map(instanceLine)]),
    ...(files.length === 0 ? [] : ['files:', ...files.flatMap(fileLines)]),
    // A record that was cut off would let keys go unseen.
    'end: record',
    '',
  ].join('\n');
}
