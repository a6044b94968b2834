import { pages } from 'virtual:pages';
import { catalogue } from './catalogue.ts';
import type { Code } from './catalogue.ts';

/** The whole story of a code: its grade and summary, then its page. */
export function pageOf(code: string): string | undefined {
  const known = Object.keys(catalogue).find((name): name is Code => name === code);
  if (known === undefined) return undefined;
  const { grade, summary } = catalogue[known];
  const page = Object.hasOwn(pages, known) ? pages[known] : undefined;
  return `${known} (${grade})\n${summary}.\n\n${page ?? ''}`;
}
