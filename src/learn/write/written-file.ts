import type { DialectWritten, FileWritten } from '../../vocabulary/shapes/dialect.ts';
import type { LearntFile } from '../contract.ts';

/** A file of the dialect, with what the copies show of its style. */
export function writtenFile({ path, format }: LearntFile): FileWritten {
  const { separator, comment, duplicates, relaxed } = format.style;
  const style: NonNullable<DialectWritten['files'][string]['style']> = {
    ...(separator === undefined ? {} : { separator }),
    ...(comment === undefined ? {} : { comment }),
    ...(duplicates === undefined ? {} : { duplicates }),
    ...(relaxed === undefined ? {} : { relaxed }),
  };
  return {
    path: `{{root}}/${path}`,
    syntax: format.syntax,
    ...(Object.keys(style).length === 0 ? {} : { style }),
  };
}
