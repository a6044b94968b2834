import { createHash } from 'node:crypto';
import type { Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type {
  Piece,
  Plan,
  PlannedChange,
  PlannedFile,
  PlannedKey,
  SaveRisk,
  Shown,
  ShownOrigin,
} from '../model/plan.ts';
import type { SourceText } from '../text/source-text.ts';
import { BadShape, JsonPart } from './json-part.ts';
import { fingerprintIn, keyTextIn, recordIn, scopeIn, styleIn, syntaxIn, targetIn } from './read-plan-record.ts';

const text = (part: JsonPart): string => part.text();
const whole = (part: JsonPart): number => part.whole();

function pathIn(part: JsonPart): CardPath {
  return cardPath(part.text()) ?? part.fail('is no path of a card');
}

function shownIn(part: JsonPart): Shown {
  const member = part.members('kind', 'value', 'names');
  switch (member('kind').word('text', 'absent', 'secret')) {
    case 'text':
      return { kind: 'text', value: keyTextIn(member('value')) };
    case 'absent':
      return { kind: 'absent' };
    case 'secret':
      return { kind: 'secret', names: member('names').items().map(text) };
  }
}

function originIn(part: JsonPart): ShownOrigin {
  const member = part.members('file', 'line', 'layer');
  return { file: member('file').text(), line: member('line').whole(), layer: member('layer').text() };
}

const classes = [
  'same',
  'first-time',
  'profile-changed',
  'reset',
  'changed-by-hand',
  'both-changed',
  'moved',
  'let-go',
  'key-gone',
  'file-gone',
  'volatile',
  'consumed',
  'let-alone',
  'answered',
] as const;

function keyIn(part: JsonPart): PlannedKey {
  const member = part.members(
    ...['class', 'act', 'instance', 'file', 'key', 'record', 'setting', 'item', 'scope'],
    ...['from', 'to', 'why', 'origin', 'cardLine'],
  );
  const record = member('record').optional(targetIn);
  const item = member('item').optional(text);
  const origin = member('origin').optional(originIn);
  const cardLine = member('cardLine').optional(whole);
  return {
    class: member('class').word(...classes),
    act: member('act').word('write', 'keep', 'none'),
    instance: member('instance').text(),
    file: member('file').text(),
    key: member('key').text(),
    ...(record === undefined ? {} : { record }),
    setting: member('setting').text(),
    ...(item === undefined ? {} : { item }),
    scope: scopeIn(member('scope')),
    from: shownIn(member('from')),
    to: shownIn(member('to')),
    why: member('why').text(),
    ...(origin === undefined ? {} : { origin }),
    ...(cardLine === undefined ? {} : { cardLine }),
  };
}

function changeIn(part: JsonPart): PlannedChange {
  const member = part.members('op', 'key', 'target', 'value', 'secrets');
  const secrets = (): readonly string[] => member('secrets').items().map(text);
  switch (member('op').word('set', 'remove', 'record')) {
    case 'set':
      return { op: 'set', key: member('key').text(), value: keyTextIn(member('value')), secrets: secrets() };
    case 'remove':
      return { op: 'remove', key: member('key').text() };
    case 'record':
      return {
        op: 'record',
        target: targetIn(member('target')),
        value: member('value').optional(keyTextIn),
        secrets: secrets(),
      };
  }
}

function pieceIn(part: JsonPart): Piece {
  const member = part.members('kind', 'text', 'name', 'escape', 'network');
  switch (member('kind').word('text', 'secret', 'psk')) {
    case 'text':
      return { kind: 'text', text: member('text').text() };
    case 'secret':
      return {
        kind: 'secret',
        name: member('name').text(),
        escape: member('escape').optional((escape) => (escape.text() === 'keyfile' ? 'keyfile' : syntaxIn(escape))),
      };
    case 'psk':
      return { kind: 'psk', name: member('name').text(), network: member('network').text() };
  }
}

function bytesIn(part: JsonPart): { readonly before: number; readonly after: number } {
  const member = part.members('before', 'after');
  return { before: member('before').whole(), after: member('after').whole() };
}

function fileIn(part: JsonPart): PlannedFile {
  const member = part.members(
    ...['path', 'instances', 'before', 'keys', 'act', 'syntax', 'style', 'changes'],
    ...['mode', 'owner', 'bytes', 'pieces', 'backup'],
  );
  const base = {
    path: pathIn(member('path')),
    instances: member('instances').items().map(text),
    before: member('before').optional(fingerprintIn),
    keys: member('keys').items().map(keyIn),
  };
  const act = member('act').word('nothing', 'change', 'whole', 'remove', 'restore');
  switch (act) {
    case 'nothing':
    case 'remove':
      return { ...base, act };
    case 'restore':
      return { ...base, act, backup: fingerprintIn(member('backup')) };
    case 'change':
      return {
        ...base,
        act,
        syntax: syntaxIn(member('syntax')),
        style: member('style').optional(styleIn),
        changes: member('changes').items().map(changeIn),
        mode: member('mode').optional(whole),
        owner: member('owner').optional(text),
        bytes: bytesIn(member('bytes')),
      };
    case 'whole':
      return {
        ...base,
        act,
        pieces: member('pieces').items().map(pieceIn),
        mode: member('mode').optional(whole),
        owner: member('owner').optional(text),
        bytes: bytesIn(member('bytes')),
      };
  }
}

function riskIn(part: JsonPart): SaveRisk {
  const member = part.members('setting', 'instance', 'what', 'origin');
  const origin = member('origin').optional(originIn);
  return {
    setting: member('setting').text(),
    instance: member('instance').text(),
    what: member('what').text(),
    ...(origin === undefined ? {} : { origin }),
  };
}

function planIn(part: JsonPart): Plan {
  const member = part.members('device', 'card', 'parts', 'files', 'saveRisks', 'record');
  return {
    device: member('device').text(),
    card: member('card').text(),
    parts: member('parts')
      .items()
      .map((one) => {
        const of = one.members('name', 'mark');
        return { name: of('name').text(), mark: of('mark').flag() };
      }),
    files: member('files').items().map(fileIn),
    saveRisks: member('saveRisks').items().map(riskIn),
    record: recordIn(member('record')),
  };
}

/** The text that the seal is made of, as `sealPlan` makes it. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, member: unknown) =>
    typeof member === 'object' && member !== null && !Array.isArray(member)
      ? Object.fromEntries(Object.entries(member).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : member,
  );
}

function contentOf(document: unknown): unknown {
  const member = new JsonPart(document, 'The plan').members('plan', 'format', 'seal', 'content');
  member('plan').word('thumbwright');
  if (member('format').whole() !== 1) member('format').fail('is of a newer version of this tool');
  const content: unknown =
    typeof document === 'object' && document !== null && 'content' in document ? document.content : undefined;
  if (content === undefined) member('content').fail('is missing');
  if (createHash('sha256').update(canonical(content)).digest('hex') !== member('seal').text())
    throw new BadShape('The plan is not the one that was sealed: something in it was changed');
  return content;
}

/** A plan as `sealPlan` wrote it. Error: `bad-plan`, where it was changed, cut off, or is none. */
export function readPlan(source: SourceText): Outcome<Plan | undefined> {
  try {
    const document: unknown = JSON.parse(source.text);
    return { value: planIn(new JsonPart(contentOf(document), 'The plan')), findings: [] };
  } catch (error) {
    if (!(error instanceof BadShape) && !(error instanceof SyntaxError) && !(error instanceof RangeError)) throw error;
    const what = error instanceof BadShape ? error.message : 'It is no JSON, or not the whole of it';
    return {
      value: undefined,
      findings: [
        makeFinding('bad-plan', {
          place: { source, span: { start: 0, end: 0 } },
          detail: `${what}. A plan is applied exactly as it was shown, or not at all.`,
          wayOut: `Copy ${source.name} again from where it was made, or make a new plan: thumbwright write PROFILE --card DIR --plan FILE`,
        }),
      ],
    };
  }
}
