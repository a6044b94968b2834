import { writtenFormat } from '../dialect/written-format.ts';
import type { Compiled, WholeFile } from '../model/compiled.ts';
import type { Piece } from '../model/plan.ts';
import { placeholder } from './spell-out.ts';

/** A file that is wholly ours in pieces: its text, and the places of the secrets in it. */
export function piecesOf({ resolved }: Compiled, file: WholeFile, secrets: readonly string[]): readonly Piece[] {
  const instance = resolved.instances.find(({ name }) => name === file.instance);
  const spec = instance?.dialect.data.files[file.file];
  const escape = spec === undefined ? undefined : writtenFormat(spec);
  const pieces: Piece[] = [];
  const names = new Map(secrets.map((name) => [placeholder(name), name]));
  let from = 0;
  for (const found of file.text.matchAll(/<secret:[^<>]+>/g)) {
    const name = names.get(found[0]);
    if (name === undefined) continue;
    if (found.index > from) pieces.push({ kind: 'text', text: file.text.slice(from, found.index) });
    pieces.push({ kind: 'secret', name, escape });
    from = found.index + found[0].length;
  }
  if (from < file.text.length || pieces.length === 0) pieces.push({ kind: 'text', text: file.text.slice(from) });
  return pieces;
}
