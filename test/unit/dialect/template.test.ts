import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import Handlebars from 'handlebars';
import fc from 'fast-check';
import { parseTemplate } from '../../../src/dialect/template/parse-template.ts';
import { psk } from '../../../src/dialect/template/psk.ts';
import type { AllowedNames, NameLookup, TemplateItem, TemplateValue } from '../../../src/dialect/template/template.ts';
import type { Place } from '../../../src/text/place.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);
const allowed: AllowedNames = {
  values: new Set(['root', 'system.folder', 'value', 'on', 'item.name', 'item.password', 'values.saves.state-on-exit']),
  lists: new Map([['networks', new Set(['this.name', 'this.password'])]]),
};
const place = (text: string): Place => ({ source: { name: 'a.yaml', text }, span: { start: 0, end: text.length } });
const read = (text: string): ReturnType<typeof parseTemplate> => parseTemplate(place(text), text, allowed);
const names =
  (known: Readonly<Record<string, TemplateValue>>): NameLookup =>
  (name) =>
    new Map(Object.entries(known)).get(name);
const asIs = (text: string): string => text;

function render(text: string, known: Readonly<Record<string, TemplateValue>>, escape = asIs): string {
  const { value, findings } = read(text);
  expect(findings).toEqual([]);
  const made = value?.render(names(known), escape);
  return made?.kind === 'text' ? made.text : JSON.stringify(made);
}

describe('templates', () => {
  it('insert values with the escaping of the target, not of HTML', () => {
    expect(render('{{root}}/a & b', { root: '<&"' })).toBe('<&"/a & b');
    expect(render('"{{value}}"', { value: 'a"b' }, (text) => text.replaceAll('"', '\\"'))).toBe('"a\\"b"');
  });

  it('tell which names they mention, settings by their whole id', () => {
    expect([...(read('{{root}}/{{#if on}}{{values.[saves.state-on-exit]}}{{/if}}').value?.names ?? [])]).toEqual([
      'root',
      'on',
      'values.saves.state-on-exit',
    ]);
  });

  it('say which name has no value, and ask for none within if', () => {
    expect(read('{{system.folder}}.conf').value?.render(names({}), asIs)).toEqual({
      kind: 'missing',
      name: 'system.folder',
    });
    expect(render('a{{#if value}}{{value}}{{else}}none{{/if}}', {})).toBe('anone');
  });

  it('repeat over lists, each turn with its own names', () => {
    const item = (name: string): TemplateItem => new Map([['this.name', name]]);
    const networks = [item('Hall'), item('Annex')];
    expect(
      render('{{#each networks}}{{@index}}:{{this.name}}{{#unless @last}},{{/unless}}{{/each}}', { networks }),
    ).toBe('0:Hall,1:Annex');
  });

  it('keep a secret by its name', () => {
    expect(
      render('{{psk item.password item.name}}', { 'item.password': { secret: 'hall' }, 'item.name': 'Hall' }),
    ).toBe('<secret:hall>');
  });

  it.each([
    ['{{constructor}}', 'template-not-allowed'],
    ['{{__proto__}}', 'template-not-allowed'],
    ['{{value.constructor}}', 'template-not-allowed'],
    ['{{value.[__proto__]}}', 'template-not-allowed'],
    ['{{this.constructor.name}}', 'template-not-allowed'],
    ['{{lookup value "constructor"}}', 'template-not-allowed'],
    ['{{log value}}', 'template-not-allowed'],
    ['{{> other}}', 'template-not-allowed'],
    ['{{#> layout}}x{{/layout}}', 'template-not-allowed'],
    ['{{#*inline "x"}}y{{/inline}}', 'template-not-allowed'],
    ['{{* decorate}}', 'template-not-allowed'],
    ['{{{value}}}', 'template-not-allowed'],
    ['{{&value}}', 'template-not-allowed'],
    ['{{#if on}}{{../value}}{{/if}}', 'template-not-allowed'],
    ['{{#each networks}}{{../root}}{{/each}}', 'template-not-allowed'],
    ['{{#with value}}{{this}}{{/with}}', 'template-not-allowed'],
    ['{{#each networks as |n|}}{{n}}{{/each}}', 'template-not-allowed'],
    ['{{psk (lookup value 0) value}}', 'template-not-allowed'],
    ['{{psk value}}', 'template-not-allowed'],
    ['{{value x=root}}', 'template-not-allowed'],
    ['{{"value"}}', 'template-not-allowed'],
    ['{{12}}', 'template-not-allowed'],
    ['{{true}}', 'template-not-allowed'],
    ['{{#if true}}x{{/if}}', 'template-not-allowed'],
    ['{{{{raw}}}} x {{{{/raw}}}}', 'template-not-allowed'],
    ['{{this}}', 'unknown-template-name'],
    ['{{@root}}', 'unknown-template-name'],
    ['{{toString}}', 'unknown-template-name'],
    ['{{hasOwnProperty}}', 'unknown-template-name'],
    ['{{networks}}', 'unknown-template-name'],
    ['{{#each value}}x{{/each}}', 'unknown-template-name'],
    ['{{rooot}}', 'unknown-template-name'],
    ['{{value', 'bad-template'],
    ['{{}}', 'bad-template'],
    ['{{#if on}}x', 'bad-template'],
    ['{{#if on}}x{{/unless}}', 'bad-template'],
    [`{{#if on}}${'{{#if on}}'.repeat(12)}x${'{{/if}}'.repeat(13)}`, 'template-not-allowed'],
    [`{{psk ${'('.repeat(60000)}`, 'bad-template'],
  ])('refuse %s', (text, code) => {
    const { value, findings } = read(text);
    expect(value).toBeUndefined();
    expect(findings.map((finding) => finding.code)).toContain(code);
  });

  it('offer the nearest name, at its own place', () => {
    const [finding] = read('{{root}}/{{sytem.folder}}').findings;
    expect(finding?.wayOut).toContain('system.folder');
    expect(finding?.place?.span).toEqual({ start: 11, end: 23 });
  });

  it('keep the size of what they make bounded', () => {
    const item: TemplateItem = new Map([['this.name', 'x'.repeat(1000)]]);
    const networks = Array.from({ length: 200 }, () => item);
    const made = read('{{#each networks}}{{#each networks}}{{this.name}}{{/each}}{{/each}}').value?.render(
      names({ networks }),
      asIs,
    );
    expect(made?.kind).toBe('cannot');
  });

  // Outside: Handlebars itself, run on the same text and names, is the reference of what a template makes.
  it('make what Handlebars makes of the same template', () => {
    const piece = fc.oneof(
      fc.constantFrom(
        '{{value}}',
        '{{root}}',
        '{{~value}}',
        '{{value~}}',
        '\n',
        ' ',
        'a',
        '\\{{value}}',
        '{{! note }}',
        '{{!-- {{x}} --}}',
      ),
      fc.constantFrom(
        '{{#if on}}yes{{/if}}',
        '{{#if on}}\nyes\n{{else}}\nno\n{{/if}}\n',
        '{{#unless on}}{{value}}{{/unless}}',
        '{{#each networks}}\n- {{this.name}} {{@index}}\n{{/each}}\n',
        '{{#each networks}}{{#if @first}}f{{/if}}{{else}}none{{/each}}',
      ),
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 8 }),
        fc.boolean(),
        fc.string(),
        fc.array(fc.string({ maxLength: 3 }), { maxLength: 3 }),
        (pieces, on, value, list) => {
          const text = pieces.join('');
          const networks = list.map((name) => new Map([['this.name', name]]));
          const ours = read(text).value?.render(names({ on, value, root: 'r', networks }), asIs);
          const theirs = Handlebars.compile(text, { noEscape: true })({
            on,
            value,
            root: 'r',
            networks: list.map((name) => ({ name })),
          });
          expect(ours).toEqual({ kind: 'text', text: theirs });
        },
      ),
      { numRuns: runs },
    );
  });

  it('never throw, whatever the text', () => {
    const part = fc.constantFrom(
      '{{',
      '}}',
      '{{{',
      '}}}',
      '#',
      '/',
      'if',
      'each',
      ' ',
      'value',
      '"',
      "'",
      '[',
      ']',
      '.',
      '@',
      '>',
      '*',
      '(',
      ')',
      '|',
      '~',
      '!',
      '--',
      '^',
      '&',
      '=',
      '\\',
      'else',
      'this',
    );
    fc.assert(
      fc.property(fc.array(part, { maxLength: 20 }), (parts) => {
        const text = parts.join('');
        const { value, findings } = read(text);
        expect((value === undefined) === findings.length > 0).toBe(true);
      }),
      { numRuns: runs },
    );
  });
});

describe('psk', () => {
  interface Cases {
    readonly ieee_vectors: readonly { readonly ssid: string; readonly passphrase: string; readonly psk: string }[];
    readonly more: Cases['ieee_vectors'];
  }
  // IEEE 802.11-2016 J.4.2, and cases made with wpa_passphrase 2.10.
  const cases = JSON.parse(
    readFileSync(new URL('../../support/standards/psk-cases.json', import.meta.url), 'utf8'),
  ) as Cases;

  it('gives the keys of IEEE 802.11, Annex J', () => {
    for (const { ssid, passphrase, psk: key } of [...cases.ieee_vectors, ...cases.more])
      expect(psk(passphrase, ssid)).toBe(key);
    expect(cases.ieee_vectors.length).toBe(3);
  });

  it('takes a key as it is, and refuses what the standard has no key for', () => {
    expect(psk('A'.repeat(64), 'Hall')).toBe('a'.repeat(64));
    expect(psk('seven77', 'Hall')).toBeUndefined();
    expect(psk('x'.repeat(64), 'Hall')).toBeUndefined();
    expect(psk('long enough', '')).toBeUndefined();
    expect(psk('long enough', 'x'.repeat(33))).toBeUndefined();
  });
});
