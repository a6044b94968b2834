import { finishValue } from '../../dialect/literal.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import type { FileFormat, KeyRow } from '../contract.ts';

type Codec = Omit<EntryWritten, 'file' | 'key' | 'writes' | 'versions' | 'as'>;

/** The member `as` of a dialect, where a file holds "12" as a string, or as a number what we would write as a string. */
export function heldAs(
  codec: Codec,
  rows: readonly KeyRow[],
  { syntax }: Pick<FileFormat, 'syntax'>,
): Pick<EntryWritten, 'as'> {
  const [name = ''] = Object.keys(codec);
  const items = rows.flatMap(({ held }) =>
    held.flatMap((one): readonly { readonly text: string; readonly literal?: boolean }[] =>
      one === undefined ? [] : one.kind === 'list' ? one.items : [one],
    ),
  );
  const fits = (as: EntryWritten['as']): boolean =>
    items.every((item) => {
      const bare: SyntaxValue = { kind: 'scalar', text: item.text };
      const finished = finishValue(bare, as, syntax, name);
      return finished.kind === 'scalar' && (finished.literal ?? false) === (item.literal ?? false);
    });
  if (fits(undefined)) return {};
  if (fits('string')) return { as: 'string' };
  if (!fits('number')) return {};
  return { as: items.every(({ text }) => text === 'true' || text === 'false') ? 'boolean' : 'number' };
}
