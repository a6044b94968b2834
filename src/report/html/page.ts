import { visible } from '../../diagnostics/visible.ts';
import render from './page.hbs';

/** One cell: its text, the numbers that the pictures mark it with, and where it comes from (`profiles/fen.yaml:17`). */
export interface PageCell {
  readonly text: string;
  readonly numbers?: readonly number[];
  readonly origin?: string;
}

/** The first cell of a row names it. */
export interface PageTable {
  readonly caption?: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly PageCell[])[];
}

export interface PageSection {
  readonly heading: string;
  readonly paragraphs?: readonly string[];
  readonly items?: readonly PageCell[];
  readonly tables?: readonly PageTable[];
}

/** A report as one page. `svg`: a picture of `drawDevice`; every other text is escaped. */
export interface Page {
  readonly title: string;
  readonly lead: readonly string[];
  readonly pictures?: readonly { readonly caption: string; readonly svg: string }[];
  readonly sections: readonly PageSection[];
  readonly footer: string;
}

const shown = (text: string): string => visible(text);

function cellOf({ text, numbers = [], origin = '' }: PageCell): object {
  return { text: visible(text), numbers, origin: visible(origin) };
}

function tableOf({ caption = '', columns, rows }: PageTable): object {
  return {
    caption: visible(caption),
    columns: columns.map(shown),
    rows: rows.map((cells) => ({
      cells: cells.map((cell, at) => ({ ...cellOf(cell), heads: at === 0, column: visible(columns[at] ?? '') })),
    })),
  };
}

/** One HTML document that needs nothing else: no script, no request; for screens from 360 pixels up and for A4 paper. */
export function htmlPage({ title, lead, pictures = [], sections, footer }: Page): string {
  return render({
    title: visible(title),
    lead: lead.map(shown),
    pictures: pictures.map(({ caption, svg }) => ({ caption: visible(caption), svg })),
    sections: sections.map(({ heading, paragraphs = [], items = [], tables = [] }) => ({
      heading: visible(heading),
      paragraphs: paragraphs.map(shown),
      items: items.map(cellOf),
      tables: tables.map(tableOf),
    })),
    footer: visible(footer),
  });
}
