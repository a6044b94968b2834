import type { Syntax } from '../contract.ts';
import { changeXml } from './change-xml.ts';
import { readXml } from './read-xml.ts';
import { encodeAttribute } from './xml-characters.ts';
import { readXmlPath } from './xml-path.ts';
import { xmlRecords } from './xml-records.ts';
import { XmlTree } from './xml-tree.ts';

/**
 * XML 1.0, without namespaces, types or entities of a document type. Keys are paths from the top elements:
 * `/settings/screen/smooth` is an element's text, `/settings/option[@name='smooth']/@value` an attribute; tests are
 * `[2]`, `[@name='…']`, `[child='…']` and `[.='…']`. A value is the exact text, blanks included.
 * Style heeded: `duplicates` (default `error`), `indent`, `lineEnd`, `siblings`.
 */
export const xml: Syntax = {
  name: 'xml',
  parse(source, style) {
    const { document, findings } = readXml(source);
    return { tree: document === undefined ? undefined : new XmlTree(source, style, document), findings };
  },
  change(tree, changes) {
    return changeXml(XmlTree.of(tree), changes);
  },
  badPath(path) {
    const read = readXmlPath(path);
    return 'path' in read ? undefined : `'${path}' is no element path: ${read.wrong}`;
  },
  escape(value) {
    return encodeAttribute(value, '"', false).replaceAll("'", '&apos;').replaceAll('>', '&gt;');
  },
  records: xmlRecords,
};
