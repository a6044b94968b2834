import type { Syntax, SyntaxName } from './contract.ts';
import { ini } from './ini/ini.ts';
import { json } from './json/json.ts';
import { lines } from './lines/lines.ts';
import { pairs } from './pairs/pairs.ts';
import { properties } from './properties/properties.ts';
import { template } from './template/template.ts';
import { toml } from './toml/toml.ts';
import { xml } from './xml/xml.ts';
import { yaml } from './yaml/yaml.ts';

/** Every syntax by its name in a dialect. Adding one: a folder beside these, a line here, a name in `SyntaxName`. */
export const syntaxes: Readonly<Record<SyntaxName, Syntax>> = Object.freeze({
  pairs,
  ini,
  xml,
  json,
  toml,
  yaml,
  properties,
  lines,
  template,
});
