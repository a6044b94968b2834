import { writtenFormat } from '../dialect/written-format.ts';
import type { Compiled, WholeFile } from '../model/compiled.ts';
import type { Piece } from '../model/plan.ts';

/** A file that is wholly ours in pieces: its text, and the places of the secrets in it and of the keys made from them. */
export function piecesOf({ resolved }: Compiled, { instance, file, text, secrets }: WholeFile): readonly Piece[] {
  const { dialect } = resolved.instances.find(({ name }) => name === instance) ?? {};
  const spec = dialect?.data.files[file];
  const escape = spec === undefined ? undefined : writtenFormat(spec);
  const pieces: Piece[] = [];
  let from = 0;
  for (const { start, end, name, network } of secrets ?? []) {
    if (start > from) pieces.push({ kind: 'text', text: text.slice(from, start) });
    pieces.push(network === undefined ? { kind: 'secret', name, escape } : { kind: 'psk', name, network });
    from = end;
  }
  if (from < text.length || pieces.length === 0) pieces.push({ kind: 'text', text: text.slice(from) });
  return pieces;
}
