import type { Place } from '../../text/place.ts';
import type { SourceText } from '../../text/source-text.ts';

/** One line of a capture, comment and outer blanks cut off; `at` counts from 1. */
export interface CaptureLine {
  readonly text: string;
  readonly at: number;
  readonly place: Place;
}

export interface CaptureSection {
  /** The words after `==`. */
  readonly title: string;
  readonly heading: CaptureLine;
  readonly lines: readonly CaptureLine[];
}

export interface CaptureText {
  /** What stands above the first section: `name: value` lines. */
  readonly head: readonly CaptureLine[];
  readonly sections: readonly CaptureSection[];
}

/**
 * Takes a capture file apart. The file is plain text:
 *
 *     capture: 1
 *     word-size: 64                  bits of a word in the list: 64 or 32, of the process that read it
 *     byte-order: little             or big; little when the line is absent
 *     == inputs                      the text of /proc/bus/input/devices, as it is
 *     I: Bus=0019 Vendor=0001 …
 *     == axes event0                 if known: code, then minimum, maximum, fuzz, flat, resolution
 *     ABS_X -1800 1800 32 32 0
 *     == press-test                  positions in the order in which they were pressed, one a line
 *     south
 *     == events event0               the bytes read from /dev/input/event0 in hexadecimal, in lines of any length
 *     8c1b… # BTN_SOUTH 1
 *
 * A `#` starts a comment, except in the list. Sections may come in any order; `axes` and `events` once for each input.
 */
export function splitCapture(source: SourceText): CaptureText {
  const head: CaptureLine[] = [];
  const sections: { title: string; heading: CaptureLine; lines: CaptureLine[] }[] = [];
  let start = 0;
  source.text.split('\n').forEach((raw, index) => {
    const full = raw.replace(/\r$/, '');
    const heading = /^==\s*(.*?)\s*$/.exec(full);
    const verbatim = sections.at(-1)?.title === 'inputs' && heading === null;
    const bare = verbatim ? full : full.replace(/(^|\s)#.*$/, '');
    const text = bare.trim();
    const from = start + (full.length - full.trimStart().length);
    const line = { text, at: index + 1, place: { source, span: { start: from, end: from + text.length } } };
    if (heading !== null) sections.push({ title: (heading[1] ?? '').replace(/\s+/g, ' '), heading: line, lines: [] });
    else (sections.at(-1)?.lines ?? head).push(line);
    start += raw.length + 1;
  });
  return { head: head.filter(({ text }) => text !== ''), sections };
}
