import type { Cell } from './numbering-cases.ts';

/** A number stands by itself: the 1 of 12 is no 1. A word may stand in another. */
function occurrences(text: string, part: string): readonly number[] {
  const found: number[] = [];
  if (part === '') return found;
  for (let at = text.indexOf(part); at >= 0; at = text.indexOf(part, at + 1)) {
    const digits = /^\d+$/.test(part);
    if (digits && (/\d$/.test(text.slice(0, at)) || /^\d/.test(text.slice(at + part.length)))) continue;
    found.push(at);
  }
  return found;
}

/** Names that a template may leave out: a device has one hat, and a word may tell its side by itself. */
const optional: ReadonlySet<string> = new Set(['hat', 'side']);

/**
 * Every template that gives this text for a control so called: each of its names in each place where its text stands
 * (substring programs, Gulwani 2011). Braces of the text's own are no template.
 */
export function templatesFor(text: string, cell: Cell): readonly string[] {
  if (/\{\{|\}\}/.test(text) || text.length > 120) return [];
  let found: readonly string[] = [text];
  for (const [name, value] of cell.names) {
    found = found.flatMap((template) => {
      const held = `{{${name}}}`;
      const places = holes(template, value).map(
        (at) => template.slice(0, at) + held + template.slice(at + value.length),
      );
      return optional.has(name) && cell.form !== 'axis' ? [...places, template] : places;
    });
  }
  return [...new Set(found)].filter((template) => template.includes('{{')).slice(0, 32);
}

/** Places outside the names that are in it already. */
function holes(template: string, value: string): readonly number[] {
  const masked = template.replace(/\{\{[^}]*\}\}/g, (name) => '\0'.repeat(name.length));
  return occurrences(masked, value);
}

/** The text that a template gives for a control so called. */
export function render(template: string, cell: Cell): string {
  return template.replace(
    /\{\{([^}]*)\}\}/g,
    (_, name: string) => cell.names.find(([own]) => own === name)?.[1] ?? '\0',
  );
}
