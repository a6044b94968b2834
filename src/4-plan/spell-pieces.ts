import { escapeForKeyfile } from '../dialect/template/keyfile.ts';
import { psk } from '../dialect/template/psk.ts';
import type { Piece } from '../model/plan.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { FindSecret } from './spell-out.ts';

/** The text of a file that is wholly ours; undefined where a secret is not at hand, or makes no key. */
export function spellPieces(
  pieces: readonly Piece[],
  find: FindSecret,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
): string | undefined {
  const parts: string[] = [];
  for (const piece of pieces) {
    const text = piece.kind === 'text' ? piece.text : spelled(piece, find(piece.name), syntaxes);
    if (text === undefined) return undefined;
    parts.push(text);
  }
  return parts.join('');
}

function spelled(
  piece: Exclude<Piece, { readonly kind: 'text' }>,
  secret: string | undefined,
  syntaxes: Readonly<Record<SyntaxName, Syntax>>,
): string | undefined {
  if (secret === undefined) return undefined;
  if (piece.kind === 'psk') return psk(secret, piece.network);
  switch (piece.escape) {
    case undefined:
      return secret;
    case 'keyfile':
      return escapeForKeyfile(secret);
    default:
      return syntaxes[piece.escape].escape(secret);
  }
}
