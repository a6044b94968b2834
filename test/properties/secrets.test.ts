import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Lens } from '../../src/dialect/contract.ts';
import { makeLens } from '../../src/dialect/make-lens.ts';
import type { Finding } from '../../src/diagnostics/finding.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import type { SyntaxName, Style } from '../../src/syntax/contract.ts';
import { applyEdits } from '../../src/text/text-edit.ts';
import { dialectDocument } from '../support/dialect/dialect-document.ts';
import { smallContext } from '../support/dialect/small-context.ts';

const runs = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

/** For each syntax: a key of it, the style it needs, and what a template that writes one such key holds. */
const formats: Readonly<
  Record<SyntaxName, { readonly key: string; readonly style?: Style; readonly template: string }>
> = {
  pairs: { key: 'word', template: 'word={{V}}\n' },
  ini: { key: '[shelf] word', template: '[shelf]\nword={{V}}\n' },
  xml: { key: '/shelf/word', template: '<shelf><word>{{V}}</word></shelf>\n' },
  json: { key: '/shelf/word', template: '{ "shelf": { "word": "{{V}}" } }\n' },
  toml: { key: 'shelf.word', template: '[shelf]\nword = "{{V}}"\n' },
  yaml: { key: 'shelf.word', template: 'shelf:\n  word: "{{V}}"\n' },
  properties: { key: 'word', template: 'word={{V}}\n' },
  lines: { key: 'word', style: { separator: ',' }, template: 'word,{{V}}\n' },
  // A file made whole has no keys: it is looked at below by the format that it writes.
  template: { key: '', template: '' },
};
const keyed = (['pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines'] as const).map(
  (name) => [name, formats[name]] as const,
);

/** Passwords as people have them, and worse. */
const printable = fc.oneof(
  fc.constantFrom(
    'plain-word',
    'a "double" and \'single\' one',
    "'",
    '"',
    '\\',
    'ends in \\',
    '# no comment',
    'word # tail',
    '; no comment',
    'a;b',
    'a=b',
    'a: b',
    'true',
    '0042',
    '12e3',
    'null',
    '~',
    '{{root}}',
    '<secret:other>',
    '<b>&amp;</b>',
    '%s $HOME ${x} `id`',
    ' blank before',
    'blank behind ',
    'é ü 中 😀',
    '[shelf]',
    '- item',
    ']]>',
    '!tag &a *a | >',
  ),
  fc.string({ minLength: 1, maxLength: 24 }),
  fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' }),
);
const anything = fc.oneof(printable, fc.string({ minLength: 1, maxLength: 12, unit: 'binary' }));

function lensFor(syntax: SyntaxName, text: string): Lens {
  const { style } = formats[syntax];
  const document = dialectDocument(
    [
      'dialect: harrow',
      'format: 1',
      'version: 1.0.0',
      'for-versions: ">=0"',
      'role: player',
      'files:',
      `  main: { path: "{{root}}/main", syntax: ${syntax}${style === undefined ? '' : `, style: { separator: ',' }`} }`,
      `  made: { path: "{{root}}/made", syntax: template, template: made.hbs, writes: ${syntax} }`,
      'settings:',
      `  achievements.password: { file: main, key: ${JSON.stringify(formats[syntax].key)}, text: "{{value}}" }`,
    ].join('\n'),
  );
  const template = formats[syntax].template.replace('V', 'settings.[achievements.password]');
  return makeLens(
    smallContext(document, {
      templates: new Map([['made.hbs', { name: 'made.hbs', text: template }]]),
      secretValue: () => text,
    }),
    syntaxes,
  ).value;
}

interface Written {
  readonly text: string | undefined;
  readonly findings: readonly Finding[];
}

/** The secret written as a key of a new file, and read back from its bytes. */
function roundTrip(syntax: SyntaxName, text: string): Written {
  const lens = lensFor(syntax, text);
  const spelled = lens.spell('achievements.password', { kind: 'secret', name: 'shelf' }, {});
  const [write] = spelled.kind === 'cannot' ? [] : spelled.writes;
  if (write?.value === undefined) throw new Error('It is not spelled at all.');
  const style = formats[syntax].style ?? {};
  const { tree, findings } = syntaxes[syntax].parse({ name: 'main', text: '' }, style);
  if (tree === undefined) return { text: undefined, findings };
  const { edits, results } = syntaxes[syntax].change(tree, [{ op: 'set', path: write.key, value: write.value }]);
  const after = syntaxes[syntax].parse({ name: 'main', text: applyEdits('', edits) }, style).tree;
  const held = after?.get(write.key);
  const current = { kind: 'secret', name: 'shelf' } as const;
  if (held !== undefined)
    expect(lens.read('achievements.password', {}, (_, key) => after?.get(key), current)).toEqual({
      kind: 'value',
      value: current,
    });
  return {
    text: held?.kind === 'scalar' ? held.text : undefined,
    findings: results.flatMap((result) => (result.kind === 'refused' ? [result.finding] : [])),
  };
}

describe.each(keyed)('a secret in %s', (syntax, { key, style, template }) => {
  it('is read back as it is, where it is a text of one line', () => {
    fc.assert(
      fc.property(printable, (secret) => {
        const { text, findings } = roundTrip(syntax, secret);
        expect(findings).toEqual([]);
        expect(text).toBe(secret);
      }),
      { numRuns: runs },
    );
  });

  it('is read back as it is, or refused without being told', () => {
    fc.assert(
      fc.property(anything, fc.constantFrom('', '\n', '\0', '\r\n', '\u0085', '\u2028', '\x1b'), (start, mark) => {
        const secret = `zq7-${start}${mark}-7qz`;
        const { text, findings } = roundTrip(syntax, secret);
        if (findings.length === 0) expect(text).toBe(secret);
        for (const { detail, wayOut } of findings) expect(detail + wayOut).not.toMatch(/zq7|7qz/);
      }),
      { numRuns: runs },
    );
  });

  it('is read back as it is from a file made whole that writes it', () => {
    fc.assert(
      fc.property(printable, (secret) => {
        const values = new Map([['achievements.password', { kind: 'secret', name: 'shelf' } as const]]);
        // Unquoted, as these templates have it, blanks and a pair of quotes at the ends are nobody's: `write` refuses both.
        const isBare = secret === secret.trim() && !/^(["']).*\1$/.test(secret);
        fc.pre((syntax !== 'pairs' && syntax !== 'ini') || isBare);
        const [whole] = lensFor(syntax, secret).wholeFiles((id) => values.get(id), {});
        if (whole?.made.kind !== 'text') throw new Error('No file was made.');
        const { tree } = syntaxes[syntax].parse({ name: 'made', text: whole.made.text }, style ?? {});
        expect(tree?.get(key), `${template} with ${secret}`).toEqual({ kind: 'scalar', text: secret });
      }),
      { numRuns: runs },
    );
  });
});
