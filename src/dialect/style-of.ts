import type { Style } from '../syntax/contract.ts';
import type { StyleWritten } from '../vocabulary/shapes/dialect.ts';

/** The style that a dialect writes, in the words of the syntax contract. */
export function styleOf(written: StyleWritten | undefined): Style {
  if (written === undefined) return {};
  return {
    ...(written.separator === undefined ? {} : { separator: written.separator }),
    ...(written.comment === undefined ? {} : { comment: written.comment }),
    ...(written['inline-comments'] === undefined ? {} : { inlineComments: written['inline-comments'] }),
    ...(written.quote === undefined ? {} : { quote: written.quote }),
    ...(written.list === undefined ? {} : { list: written.list }),
    ...(written.duplicates === undefined ? {} : { duplicates: written.duplicates }),
    ...(written.continuation === undefined ? {} : { continuation: written.continuation }),
    ...(written.sections === undefined ? {} : { sections: written.sections }),
    ...(written['fold-case'] === undefined ? {} : { foldCase: written['fold-case'] }),
    ...(written.relaxed === undefined ? {} : { relaxed: written.relaxed }),
    ...(written['line-end'] === undefined ? {} : { lineEnd: written['line-end'] }),
    ...(written.indent === undefined ? {} : { indent: written.indent }),
    ...(written.siblings === undefined ? {} : { siblings: written.siblings }),
  };
}
