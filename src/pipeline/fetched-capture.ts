import { readCapture } from '../controls/capture/read-capture.ts';
import { writeCapture } from '../controls/capture/write-capture.ts';
import type { Capture } from '../controls/capture/capture.ts';
import type { Fetched } from '../device/read-fetched.ts';
import type { Finding } from '../diagnostics/finding.ts';

export interface FetchedCapture {
  readonly text: string;
  /** Undefined when no controls can be told from it. */
  readonly capture: Capture | undefined;
  readonly findings: readonly Finding[];
}

/** The capture file of what a device brought, and what it says; undefined without a list of inputs. `name`: for messages. */
export function fetchedCapture({ controls }: Fetched, name: string): FetchedCapture | undefined {
  if (controls === undefined) return undefined;
  const { wordSize, ...parts } = controls;
  const written = writeCapture({ ...parts, wordSize: wordSize ?? 64 });
  // Where the device did not tell, the list itself may; a guess written down would hide that.
  const text = wordSize === undefined ? written.replace(/^word-size: 64\n/m, '') : written;
  const read = readCapture({ name, text });
  return { text, capture: read.value, findings: read.findings };
}
