/** Marks for a terminal. Each is the text itself where colour is off, so that nothing is said by colour alone. */
export interface Paint {
  readonly error: (text: string) => string;
  readonly warning: (text: string) => string;
  readonly note: (text: string) => string;
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
}

/** Select Graphic Rendition, ECMA-48 (5th edition) section 8.3.117. */
const rendition =
  (on: number, off: number) =>
  (text: string): string =>
    `\x1b[${on}m${text}\x1b[${off}m`;

const same = (text: string): string => text;

export function paint(colour: boolean): Paint {
  if (!colour) return { error: same, warning: same, note: same, strong: same, faint: same };
  return {
    error: rendition(31, 39),
    warning: rendition(33, 39),
    note: rendition(36, 39),
    strong: rendition(1, 22),
    faint: rendition(2, 22),
  };
}
