import { readMark } from '../1-load/card-mark.ts';
import type { CardMark } from '../1-load/card-mark.ts';
import type { Files } from '../files/contract.ts';
import type { HostPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';

/** Which card this is, told by the id files on its parts and the records in the workspace. */
export type KnownCard =
  | {
      readonly kind: 'known';
      readonly record: CardRecord;
      /** Parts that carry no id file: re-imaged, or new. */ readonly bare: readonly string[];
    }
  /** No part carries an id. `records`: cards of this device that were written before; one of them may be this one, with a new image. */
  | { readonly kind: 'bare'; readonly records: readonly CardRecord[] }
  /** It says that it is another device's. */
  | { readonly kind: 'other-device'; readonly part: string; readonly device: string }
  /** Its id is of this device, but no record here knows it: set up from another workspace. */
  | { readonly kind: 'foreign'; readonly part: string; readonly card: string; readonly records: readonly CardRecord[] }
  /** Its parts carry several ids. */
  | { readonly kind: 'mixed'; readonly ids: readonly { readonly part: string; readonly card: string }[] };

/** Looks at the parts that were given. `records`: those of the device. */
export function knowCard(
  files: Files,
  device: string,
  parts: ReadonlyMap<string, HostPath>,
  records: readonly CardRecord[],
): KnownCard {
  const marked: { part: string; card: string; device: string }[] = [];
  const bare: string[] = [];
  for (const [part, folder] of parts) {
    const mark = readMark(files, folder);
    if (mark === undefined) bare.push(part);
    else marked.push({ part, ...mark });
  }
  const [first] = marked;
  if (first === undefined) return { kind: 'bare', records };
  const other = marked.find((mark) => mark.device !== device);
  if (other !== undefined) return { kind: 'other-device', part: other.part, device: other.device };
  if (marked.some(({ card }) => card !== first.card))
    return { kind: 'mixed', ids: marked.map(({ part, card }) => ({ part, card })) };
  const record = records.find(({ card }) => card === first.card);
  return record === undefined
    ? { kind: 'foreign', part: first.part, card: first.card, records }
    : { kind: 'known', record, bare };
}

/** What a part says of itself. */
export function readMarkOf(files: Files, part: HostPath): CardMark | undefined {
  return readMark(files, part);
}
