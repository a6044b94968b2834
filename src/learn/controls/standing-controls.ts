import type { KeyRow, Proposal, SettingRow } from '../contract.ts';
import { heldText } from '../copies/key-table.ts';
import type { KeyTable } from '../copies/key-table.ts';
import type { Naming } from '../judge/proposals.ts';
import { nameScore } from '../names/name-score.ts';
import type { ControlsFound } from './learn-controls.ts';

/**
 * Hold and open-menu are never moved, so that nobody is locked out: their keys are among those that hold their control in
 * every copy. Names say which, so they are likely at most. A key is looked for in the files where hotkeys are.
 */
export function standingControls(
  table: KeyTable,
  settings: readonly SettingRow[],
  found: ControlsFound | undefined,
  { files }: Naming,
  explained: ReadonlySet<KeyRow>,
): readonly Proposal[] {
  if (found === undefined) return [];
  const homes = new Set(
    found.claims.flatMap(({ choices }) => choices.flatMap(({ rows }) => rows.map(({ file }) => file))),
  );
  const codec = found.claims.find(({ setting }) => setting.setting.type.kind === 'bind')?.codec ?? { control: {} };
  return settings
    .filter(
      ({ changed, setting }) =>
        changed.size === 0 && !(setting.id === 'hotkeys.hold' && found.learnt.section.hold === 'each'),
    )
    .flatMap((setting): readonly Proposal[] => {
      const scored = table.rows
        .filter((row) => homes.has(row.file) && !explained.has(row) && holds(table, row, setting, found))
        .map((row) => ({ row, score: nameScore(setting.setting, row.key) }))
        .sort((a, b) => b.score - a.score);
      const [best, second] = scored;
      const file = best === undefined ? undefined : files.get(best.row.file);
      if (best === undefined || file === undefined || (second !== undefined && second.score >= best.score)) return [];
      return [
        {
          setting: setting.setting,
          scope: setting.scope,
          grade: 'likely',
          entry: {
            file: file.id,
            key: best.row.key,
            ...(setting.setting.type.kind === 'bind' ? codec : { control: {} }),
          },
          keys: [{ file: best.row.file, key: best.row.key }],
          evidence: ['it holds the control in every copy, and its name says so'],
          rivals: scored.slice(1).map(({ row }) => row.key),
        },
      ];
    });
}

function holds(table: KeyTable, row: KeyRow, { known }: SettingRow, found: ControlsFound): boolean {
  let seen = false;
  for (const [at, where] of table.observations.entries()) {
    const value = known[at];
    const position =
      value?.kind === 'control'
        ? value.position
        : value?.kind === 'press' && value.press.kind === 'with-hold'
          ? value.press.position
          : undefined;
    if (position === undefined) continue;
    const texts = found.spelled(position, where);
    const held = row.held[at];
    const own = held?.kind === 'list' ? held.items.map(({ text }) => text) : [heldText(held)];
    const { chord } = found.learnt.section;
    const parts = chord === undefined ? own : own.flatMap((text) => text.split(chord.join));
    if (held === undefined || !parts.some((text) => texts.includes(text))) return false;
    seen = true;
  }
  return seen;
}
