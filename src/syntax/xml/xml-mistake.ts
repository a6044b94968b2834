/** Where a text breaks the grammar of XML, and how. Thrown and caught inside the reader only. */
export class XmlMistake extends Error {
  readonly start: number;
  readonly end: number;

  constructor(what: string, start: number, end: number) {
    super(what);
    this.start = start;
    this.end = end;
  }
}
