import type { Outcome } from '../../diagnostics/finding.ts';
import type { CodecsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { ValueType } from '../../vocabulary/types.ts';
import { chord } from './chord.ts';
import type { Codec, CodecKind, CodecName, Site } from './contract.ts';
import { control } from './control.ts';
import { list } from './list.ts';
import { mapping } from './mapping.ts';
import { members } from './members.ts';
import { number } from './number.ts';
import { path } from './path.ts';
import { text } from './text.ts';
import { values } from './values.ts';

/** A kind of codec, ready to be asked whether an entry wants it. */
export interface CodecMaker {
  readonly name: CodecName;
  readonly fits: readonly ValueType['kind'][];
  /** Undefined when the entry does not have the member. */
  make(written: CodecsWritten, site: Site): Outcome<Codec | undefined> | undefined;
}

function maker<N extends CodecName>(kind: CodecKind<N>): CodecMaker {
  return {
    name: kind.name,
    fits: kind.fits,
    make(written, site) {
      const own = written[kind.name];
      return own === undefined || own === null ? undefined : kind.make(own, site);
    },
  };
}

/** Every kind of codec. An entry has exactly one. */
export const codecKinds: readonly CodecMaker[] = Object.freeze([
  maker(values),
  maker(number),
  maker(text),
  maker(path),
  maker(control),
  maker(chord),
  maker(list),
  maker(members),
  maker(mapping),
]);
