import type { Compiled } from '../../model/compiled.ts';
import type { CardPath } from '../../model/paths.ts';
import type { Origin } from '../../model/resolved.ts';
import type { Place } from '../../text/place.ts';
import type { FileWritten } from '../../vocabulary/shapes/dialect.ts';

/** Why a file would be written: the first thing that one instance puts in it. */
export interface Writer {
  readonly instance: string;
  /** Id in the dialect. */
  readonly file: string;
  readonly spec: FileWritten | undefined;
  /** Wholly ours. */
  readonly whole: boolean;
  readonly setting: string;
  readonly origin: Origin;
  readonly dialectPlace: Place | undefined;
}

/** Every file that a build would write, with one writer for each instance. */
export function writtenFiles({ resolved, edits, wholeFiles }: Compiled): ReadonlyMap<CardPath, readonly Writer[]> {
  const found = new Map<CardPath, Map<string, Writer>>();
  const add = (path: CardPath, writer: Omit<Writer, 'spec'>): void => {
    let writers = found.get(path);
    if (writers === undefined) found.set(path, (writers = new Map<string, Writer>()));
    if (writers.has(writer.instance)) return;
    const instance = resolved.instances.find(({ name }) => name === writer.instance);
    writers.set(writer.instance, { ...writer, spec: instance?.dialect.data.files[writer.file] });
  };
  for (const { path, instance, file, setting, origin, dialectPlace } of wholeFiles)
    add(path, { instance, file, whole: true, setting, origin, dialectPlace });
  for (const { path, instance, file, setting, origin, dialectPlace } of edits)
    add(path, { instance, file, whole: false, setting, origin, dialectPlace });
  return new Map([...found].map(([path, writers]) => [path, [...writers.values()]]));
}
