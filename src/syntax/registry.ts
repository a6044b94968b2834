import type { Syntax, SyntaxName } from './contract.ts';
import { ini } from './ini/ini.ts';
import { json } from './json/json.ts';
import { lines } from './lines/lines.ts';
import { parsingOnce } from './parse-once.ts';
import { pairs } from './pairs/pairs.ts';
import { properties } from './properties/properties.ts';
import { template } from './template/template.ts';
import { toml } from './toml/toml.ts';
import { xml } from './xml/xml.ts';
import { yaml } from './yaml/yaml.ts';

/** Every syntax by its name in a dialect. Adding one: a folder beside these, a line here, a name in `SyntaxName`. */
export const syntaxes: Readonly<Record<SyntaxName, Syntax>> = Object.freeze({
  pairs: parsingOnce(pairs),
  ini: parsingOnce(ini),
  xml: parsingOnce(xml),
  json: parsingOnce(json),
  toml: parsingOnce(toml),
  yaml: parsingOnce(yaml),
  properties: parsingOnce(properties),
  lines: parsingOnce(lines),
  template: parsingOnce(template),
});
