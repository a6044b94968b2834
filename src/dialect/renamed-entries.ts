import type { SyntaxValue } from '../syntax/contract.ts';
import type { Codec, Slots } from './codecs/contract.ts';
import type { CompiledEntry } from './compiled-dialect.ts';
import type { Renames } from './moved.ts';

function each(slots: Slots, change: (text: string) => string): Slots {
  const changed = (value: SyntaxValue): SyntaxValue =>
    value.kind === 'scalar'
      ? { ...value, text: change(value.text) }
      : { ...value, items: value.items.map((item) => ({ ...item, text: change(item.text) })) };
  return new Map([...slots].map(([slot, value]) => [slot, changed(value)]));
}

/** A codec whose texts an update renamed: `moved: value` is of spellings, whatever makes them. */
function renamedCodec(codec: Codec, setting: string, renames: Renames): Codec {
  const now = (slots: Slots): Slots => each(slots, (text) => renames.value(setting, text));
  return {
    ...codec,
    spell(value, at) {
      const told = codec.spell(value, at);
      return told.kind === 'cannot' ? told : { ...told, slots: now(told.slots) };
    },
    others: (value, at) => codec.others(value, at).map(now),
    candidates: (held, at) => [
      ...codec.candidates(
        each(held, (text) => renames.valueBefore(setting, text)),
        at,
      ),
      ...codec.candidates(held, at),
    ],
  };
}

/** The entries of a dialect, spelled with what updates renamed. */
export function withRenames(
  entries: ReadonlyMap<string, readonly CompiledEntry[]>,
  renames: Renames,
): ReadonlyMap<string, readonly CompiledEntry[]> {
  return new Map(
    [...entries].map(([id, list]) => {
      if (!renames.respells(id)) return [id, list];
      const renamed = (write: CompiledEntry['writes'][number]): CompiledEntry['writes'][number] => ({
        ...write,
        codec: renamedCodec(write.codec, id, renames),
      });
      return [id, list.map((entry) => ({ ...entry, writes: entry.writes.map(renamed) }))];
    }),
  );
}
