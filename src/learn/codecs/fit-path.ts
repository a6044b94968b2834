import { devicePath } from '../../dialect/codecs/path.ts';
import type { FitMaker } from './contract.ts';

/** A folder where the device mounts its part, with or without a slash at the end. */
export const fitPath: FitMaker = (setting, points) => {
  if (setting.type.kind !== 'place') return [];
  const ends = new Set<string>();
  for (const { value, held, series } of points) {
    if (value.kind !== 'place' || held.kind === 'list') return [];
    const part = series.parts.get(value.part);
    const folder = part === undefined ? undefined : devicePath(part, value.folder);
    if (folder === undefined || !held.text.startsWith(folder)) return [];
    const end = held.text.slice(folder.length);
    if (end !== '' && end !== '/') return [];
    ends.add(end);
  }
  if (ends.size !== 1) return [];
  const trailing = ends.has('/');
  return [
    { codec: { path: trailing ? { trailing } : {} }, kind: 'law', says: 'the folder where the device mounts it' },
  ];
};
