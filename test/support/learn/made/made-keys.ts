import type { SyntaxName } from '../../../../src/syntax/contract.ts';
import type { StyleWritten } from '../../../../src/vocabulary/shapes/dialect.ts';
import type { Dice } from './dice.ts';

/** A kind of file: its syntax and style, its text without any key, and how a name becomes a key of it. */
export interface MadeFile {
  readonly syntax: Exclude<SyntaxName, 'template'>;
  readonly style: StyleWritten;
  readonly ending: string;
  readonly empty: string;
  /** Whether keys may be several words. */
  readonly spaced: boolean;
  readonly key: (section: string, name: string) => string;
  readonly lists: boolean;
}

function flat(
  syntax: 'pairs' | 'properties' | 'lines',
  ending: string,
  style: StyleWritten,
  spaced: boolean,
): MadeFile {
  const head = style.comment === undefined || typeof style.comment !== 'string' ? '#' : style.comment;
  return {
    syntax,
    style,
    ending,
    empty: `${head} written at every end\n`,
    spaced,
    key: (_, name) => name,
    lists: false,
  };
}

/** The kinds of files that frontends are made of. */
export function madeFile(dice: Dice): MadeFile {
  const indented: Pick<MadeFile, 'ending' | 'spaced'> = { ending: '', spaced: false };
  const kind = dice.of([
    'pairs',
    'pairs',
    'ini',
    'properties',
    'lines',
    'json',
    'toml',
    'yaml',
    'nested',
    'options',
    'texts',
  ] as const);
  switch (kind) {
    case 'pairs': {
      const separator = dice.of([' = ', '=', ': ', ' ', ' -> ']);
      const spaced = separator !== ' ' && separator !== '=' && dice.chance(0.4);
      return flat('pairs', dice.of(['.conf', '.cf', '']), { separator, comment: dice.of(['#', ';', '//']) }, spaced);
    }
    case 'properties':
      return flat('properties', '.properties', {}, false);
    case 'lines':
      return flat('lines', '.txt', { separator: dice.of([' > ', ' => ', '|']), comment: '--' }, true);
    case 'ini':
      return {
        syntax: 'ini',
        style: { separator: dice.of(['=', ' = ']), comment: dice.of(['#', ';']) },
        ending: dice.of(['.ini', '.cfg']),
        empty: '',
        spaced: dice.chance(0.3),
        key: (section, name) => `[${section}] ${name}`,
        lists: false,
      };
    case 'json':
      return {
        ...indented,
        syntax: 'json',
        style: {},
        ending: '.json',
        empty: '{}\n',
        key: (section, name) => `/${section}/${/^\d/.test(name) ? 'n' : ''}${name}`,
        lists: true,
      };
    case 'toml':
    case 'yaml':
      return {
        ...indented,
        syntax: kind,
        style: {},
        ending: `.${kind}`,
        empty: '',
        key: (section, name) => `${section}.${name}`,
        lists: true,
      };
    case 'nested':
      return {
        ...indented,
        syntax: 'xml',
        style: {},
        ending: '.xml',
        empty: '<made>\n</made>\n',
        key: (section, name) => `/made/n${section}/n${name}`,
        lists: false,
      };
    case 'options':
      return {
        ...indented,
        syntax: 'xml',
        style: {},
        ending: '.xml',
        empty: '<made>\n</made>\n',
        key: (section, name) => `/made/${section}/option[@id='${name}']/@to`,
        lists: false,
      };
    case 'texts':
      return {
        ...indented,
        syntax: 'xml',
        style: {},
        ending: '.xml',
        empty: '<made>\n</made>\n',
        key: (_, name) => `/made/set[@name='${name}']`,
        lists: false,
      };
  }
}
