import { forecastRoom } from '../5-apply/check-room.ts';
import { survey } from '../5-apply/survey.ts';
import { temporaryNames } from '../5-apply/temporary-names.ts';
import type { Disk } from '../files/disk.ts';
import type { CardRoom } from '../model/card.ts';
import type { BuiltFile } from '../model/compiled.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath, HostPath } from '../model/paths.ts';
import { encodeText } from '../text/encoding.ts';
import type { SourceText } from '../text/source-text.ts';

/**
 * What writing the built files would take of a card, before anything is asked or kept: secrets count by their names, and
 * hand changes as if they gave way. Empty where the card cannot be looked at.
 * `standing`: the card's own texts.
 */
export function roomOnCard(
  disk: Disk,
  files: readonly BuiltFile[],
  parts: ReadonlyMap<string, HostPath>,
  standing: (path: CardPath) => SourceText | undefined,
): readonly CardRoom[] {
  const seen = { keyed: false, hash: 'seen' };
  const found = survey({
    disk,
    parts,
    works: files.flatMap((file) =>
      parts.has(splitCardPath(file.path).part) && differs(file, standing(file.path)?.text)
        ? [{ path: file.path, expected: file.base === undefined ? undefined : seen, content: encodeText(file.text) }]
        : [],
    ),
    fingerprint: () => seen.hash,
  });
  if (found.kind === 'failed') return [];
  const { changes, roots } = found.survey;
  const forecast = forecastRoom(disk, roots, found.survey, temporaryNames(disk, roots, changes));
  return forecast.kind === 'failed'
    ? []
    : forecast.volumes.map(({ space, parts: on, peak }) => ({
        parts: on,
        cluster: space.cluster,
        free: space.free,
        peak,
      }));
}

/** Whether more is to be written than passwords: those of the card are hidden in what is built, and cannot be compared. */
function differs({ text, keys, whole }: BuiltFile, standing: string | undefined): boolean {
  if (standing === undefined) return true;
  if (whole === undefined) return keys.some(({ changed, edit }) => changed && edit.decision?.value.kind !== 'secret');
  const there = standing.split('\n');
  const wanted = text.split('\n');
  return there.length !== wanted.length || wanted.some((line, at) => line !== there[at] && !line.includes('<secret:'));
}
