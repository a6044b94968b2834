import type { Value } from '../../model/value.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { parseQuantity, printQuantity } from '../../vocabulary/units.ts';
import { sameText } from '../../model/same-text.ts';
import { describeValue } from '../../model/describe-value.ts';
import { textNames } from '../template/names.ts';
import { parseTemplate } from '../template/parse-template.ts';
import type { NameLookup, TemplateValue } from '../template/template.ts';
import { secretIn } from '../value-names.ts';
import type { CodecKind, Moment, Told } from './contract.ts';
import { oneSlot, onlyText } from './held.ts';

/** What names of the value itself stand for; undefined: the value is no text. */
function namesOf(value: Value, at: Moment): ReadonlyMap<string, TemplateValue> | undefined {
  switch (value.kind) {
    case 'text':
      return new Map([['value', value.text]]);
    case 'word':
      return new Map([['value', value.word]]);
    case 'boolean':
      return new Map([['value', String(value.is)]]);
    case 'number':
      return new Map([['value', String(value.number)]]);
    case 'quantity':
      return new Map([['value', printQuantity(value.amount, value.measure)]]);
    case 'secret':
      return new Map([['value', secretIn(value.name, at.context)]]);
    case 'core': {
      const cores = new Map(Object.entries(at.context.catalog?.cores ?? {}));
      const id = at.renames.core(value.core);
      const bits = at.context.instances?.get(value.instance)?.bits;
      return new Map([
        ['value', id],
        ['core.id', id],
        ['core.name', cores.get(value.core)?.name ?? value.core],
        ['instance.name', value.instance],
        ...(bits === undefined ? [] : [['instance.bits', String(bits)] as const]),
      ]);
    }
    case 'control':
    case 'press':
    case 'none':
    case 'place':
    case 'words':
    case 'texts':
    case 'networks':
      return undefined;
  }
}

/** What a text between the template's own letters may be, for this setting. */
function valuesOf(text: string, setting: SettingDefinition): readonly Value[] {
  const { type } = setting;
  switch (type.kind) {
    case 'text':
      // The patterns are the registry's own, not a dialect's.
      return type.pattern === undefined || new RegExp(type.pattern, 'u').test(text) ? [{ kind: 'text', text }] : [];
    case 'options':
      return [{ kind: 'text', text }];
    case 'boolean':
      return text === 'true' || text === 'false' ? [{ kind: 'boolean', is: text === 'true' }] : [];
    case 'word':
      return type.of.includes(text) ? [{ kind: 'word', word: text }] : [];
    case 'number':
      return text.trim() !== '' && Number.isFinite(Number(text)) ? [{ kind: 'number', number: Number(text) }] : [];
    case 'quantity': {
      if (type.words?.includes(text) === true) return [{ kind: 'word', word: text }];
      const quantity = parseQuantity(text, type.measure);
      return quantity.kind === 'amount' ? [{ kind: 'quantity', measure: type.measure, amount: quantity.amount }] : [];
    }
    case 'secret': {
      const name = /^<secret:([^<>]+)>$/.exec(text)?.[1];
      return name === undefined ? [] : [{ kind: 'secret', name }];
    }
    case 'control':
    case 'bind':
    case 'place':
    case 'words':
    case 'texts':
    case 'networks':
    case 'cores':
    case 'lists':
      return [];
  }
}

/** Every core on every instance that this one may have to name; its own first. */
function coresOf(at: Moment): readonly Value[] {
  const { context } = at;
  const instances = [
    context.instance,
    ...[...(context.instances?.keys() ?? [])].filter((name) => name !== context.instance),
  ];
  return instances.flatMap((instance) =>
    Object.keys(context.catalog?.cores ?? {}).map((core): Value => ({ kind: 'core', instance, core })),
  );
}

/** A private-use character that stands for the value while the template's own letters are found. */
const mark = '\uf8ff';

/** The text between the template's own letters, however often it stands there; undefined when it does not fit. */
function between(held: string, drawn: string): string | undefined {
  const pieces = drawn.split(mark);
  const times = pieces.length - 1;
  const own = pieces.reduce((length, piece) => length + piece.length, 0);
  const length = (held.length - own) / times;
  if (times < 1 || !Number.isInteger(length) || length < 0) return undefined;
  const text = held.slice(pieces[0]?.length ?? 0, (pieces[0]?.length ?? 0) + length);
  return pieces.join(text) === held ? text : undefined;
}

/** A text made from the value and the names of its place. */
export const text: CodecKind<'text'> = {
  name: 'text',
  fits: ['text', 'boolean', 'word', 'number', 'quantity', 'secret', 'cores', 'options'],
  make(written, site) {
    const { value: template, findings } = parseTemplate(site.place, written, textNames);
    if (template === undefined) return { value: undefined, findings };
    const draw = (own: ReadonlyMap<string, TemplateValue>, at: Moment): Told => {
      const look: NameLookup = (name) => own.get(name) ?? at.names(name);
      const made = template.render(look, (inserted) => inserted);
      switch (made.kind) {
        case 'text':
          return { kind: 'exact', slots: oneSlot(made.text) };
        case 'missing':
          return {
            kind: 'cannot',
            code: 'name-without-value',
            why: `{{${made.name}}} of the dialect's text is not known here`,
          };
        case 'cannot':
          return { kind: 'cannot', code: 'not-expressible', why: made.why };
      }
    };
    return {
      value: {
        rule: { name: 'text', says: `text ${written}` },
        nothing: undefined,
        spell(value, at) {
          const own = namesOf(value, at);
          return own === undefined
            ? { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no single text` }
            : draw(own, at);
        },
        others: () => [],
        same: sameText,
        candidates(held, at) {
          const content = onlyText(held);
          if (content === undefined) return [];
          if (site.setting.type.kind === 'cores') return coresOf(at);
          const drawn = draw(new Map([['value', mark]]), at);
          const pattern = drawn.kind === 'exact' ? onlyText(drawn.slots) : undefined;
          const inner = pattern === undefined ? undefined : between(content, pattern);
          return inner === undefined ? [] : valuesOf(inner, site.setting);
        },
      },
      findings: [],
    };
  },
};
