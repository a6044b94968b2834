/**
 * A text and the name to show for it. `name` is relative to the workspace (never a path of the machine),
 * with forward slashes. `text` is decoded by `decodeBytes`, so that no byte is lost.
 */
export interface SourceText {
  readonly name: string;
  readonly text: string;
}
