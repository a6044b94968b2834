/** Why an update, and not a hand, may have taken keys of a file back to stock. */
export type Evidence =
  /** The frontend's version is another than in the record. */
  | 'version'
  /** The stock text of the file is another than in the record. */
  | 'stock'
  /** All keys of the file that differ from stock, two at least, are back at stock. */
  | 'all-back';

export interface FileEvidence {
  readonly versionThen: string | undefined;
  readonly versionNow: string | undefined;
  /** Hashes of the stock texts. */
  readonly stockThen: string | undefined;
  readonly stockNow: string | undefined;
  /** Of the keys that we wrote otherwise than stock has them: whether the card has each as stock does. */
  readonly backAtStock: readonly boolean[];
}

/** Evidence of an update for the keys of one file. What is not known on either side is none. */
export function evidenceOf(file: FileEvidence): Evidence | undefined {
  const { versionThen, versionNow, stockThen, stockNow, backAtStock } = file;
  if (versionThen !== undefined && versionNow !== undefined && versionThen !== versionNow) return 'version';
  if (stockThen !== undefined && stockNow !== undefined && stockThen !== stockNow) return 'stock';
  return backAtStock.length >= 2 && backAtStock.every((back) => back) ? 'all-back' : undefined;
}
