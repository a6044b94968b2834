import type { SyntaxGenerator } from './contract.ts';
import { iniGenerator } from './ini.ts';
import { jsonGenerator } from './json.ts';
import { keyedLinesGenerator, linesGenerator } from './lines.ts';
import { pairsGenerator } from './pairs.ts';
import { propertiesGenerator } from './properties.ts';
import { tomlGenerator } from './toml.ts';
import { xmlGenerator } from './xml.ts';
import { yamlGenerator } from './yaml.ts';

/** The texts of every syntax that the lens laws are held to. */
export const generators: readonly SyntaxGenerator[] = [
  pairsGenerator,
  iniGenerator,
  propertiesGenerator,
  linesGenerator,
  keyedLinesGenerator,
  tomlGenerator,
  jsonGenerator,
  xmlGenerator,
  yamlGenerator,
];
