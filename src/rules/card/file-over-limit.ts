import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Rule } from '../contract.ts';
import { fileSystemOf } from './card-file-system.ts';

/** FAT32 keeps a file's length in 32 bits; Linux refuses one byte more with EFBIG. */
const mostOnFat = 2 ** 32 - 1;

/** Files below the roots of a part that FAT32 cannot hold: of a copy of a card, or of what is to be put on one. */
export const fileOverLimit: Rule = {
  name: 'file-over-limit',
  codes: ['file-over-limit'],
  check({ resolved, card }) {
    if (card === undefined) return [];
    return [...resolved.device.parts.values()].flatMap((part) =>
      fileSystemOf(part) === 'fat'
        ? card.larger(part.name, mostOnFat).map(({ path, bytes }) =>
            makeFinding('file-over-limit', {
              place: resolved.profile.place(['device', 'parts', part.name]),
              about: [path],
              detail: `${path} has ${bytes} bytes, and a file on ${part.filesystem ?? 'FAT32'} at most ${mostOnFat} (4 GiB less one byte).`,
              wayOut:
                'Split or compress it if its core reads such files, keep it off this card, or use a card with exFAT if the device reads that.',
            }),
          )
        : [],
    );
  },
};
