import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import { decodeBytes } from '../text/encoding.ts';

/** The file, in the top folder of each part, by which a card is known again. */
export const markName = 'thumbwright-card.txt';

/** What a part says of itself. */
export interface CardMark {
  readonly card: string;
  readonly device: string;
}

/** The text of the id file: read by people first. */
export function markText({ card, device }: CardMark): string {
  return [
    'This card is set up with thumbwright, which knows it again by this file.',
    'Without it the next write asks which card this is.',
    '',
    `card: ${card}`,
    `device: ${device}`,
    '',
  ].join('\n');
}

/** The id file of a part, if it has one that can be read. */
export function readMark(files: Files, part: HostPath): CardMark | undefined {
  const read = files.read(files.join(part, markName), 64 * 1024);
  if (read.kind !== 'bytes') return undefined;
  const text = decodeBytes(read.bytes);
  const card = /^card: *([0-9a-f]{16})\s*$/m.exec(text)?.[1];
  const device = /^device: *([a-z0-9]+(?:-[a-z0-9]+)*)\s*$/m.exec(text)?.[1];
  return card === undefined || device === undefined ? undefined : { card, device };
}
