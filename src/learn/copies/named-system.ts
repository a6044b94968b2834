import type { CatalogWritten } from '../../vocabulary/shapes/catalog.ts';

/** A system that a path or key names, with the text that names it. */
export interface NamedSystem {
  readonly system: string;
  readonly text: string;
  /** Name of a template that gives the text: the folder's where folder and id are one. */
  readonly template: 'system.folder' | 'system.id';
  /** The text as a word of its own. */
  readonly word: RegExp;
}

function named(system: string, text: string, template: NamedSystem['template']): NamedSystem {
  const word = new RegExp(`(^|[^\\p{L}\\p{N}])${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}($|[^\\p{L}\\p{N}])`, 'u');
  return { system, text, template, word };
}

/** The systems of a catalog by the texts that may name them in a path or key, longest first. */
export function systemTexts(catalog: CatalogWritten | undefined): readonly NamedSystem[] {
  return Object.entries(catalog?.systems ?? {})
    .flatMap(([system, { folder }]) => [
      named(system, folder, 'system.folder'),
      ...(system === folder ? [] : [named(system, system, 'system.id')]),
    ])
    .sort((a, b) => b.text.length - a.text.length);
}

/** The system that a text names as a word of it: `systems/burdock.conf`, `burdock.engine`. */
export function systemIn(text: string, systems: readonly NamedSystem[]): NamedSystem | undefined {
  return systems.find((one) => text.includes(one.text) && one.word.test(text));
}

/** A path or key with the system's folder or id as a name of the template. Braces of its own cannot be one. */
export function withSystem(text: string, system: NamedSystem | undefined): string {
  return system === undefined ? text : text.replace(system.text, `{{${system.template}}}`);
}
