import { compareRank } from '../2-resolve/rank.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { makeSheet } from '../learn/sheet/make-sheet.ts';
import type { Device, Resolved, Wish } from '../model/resolved.ts';
import type { Sheet } from '../model/sheet.ts';
import type { HostPath } from '../model/paths.ts';
import { prepareProfile } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import { firstTen } from '../vocabulary/first-ten.ts';
import type { Position } from '../vocabulary/positions.ts';
import { settings } from '../vocabulary/registry.ts';
import type { Role } from '../vocabulary/types.ts';

/** What the hold control and the control that opens the menu are on the device now. */
export interface Stays {
  readonly hold: Position | undefined;
  readonly openMenu: Position | undefined;
}

export interface SheetOptions {
  readonly firstTen: boolean;
  readonly roles: readonly Role[];
  /** What the person says that they are; else as the profile and its house wish them. */
  readonly stays: Partial<Stays>;
}

export interface SheetOf {
  readonly sheet: Sheet;
  readonly device: Device;
  readonly stays: Stays;
}

/** The sheet of `learn` for the device of a profile: the same whenever it is asked for. */
export function sheetOf(
  project: Project,
  profile: HostPath,
  options: SheetOptions,
): { readonly value: SheetOf | undefined; readonly findings: readonly Finding[] } {
  const { parts, findings } = prepareProfile(project, profile, false);
  if (parts === undefined) return { value: undefined, findings };
  const { resolved } = parts;
  const { device } = resolved;
  const stays: Stays = {
    hold: options.stays.hold ?? wished(resolved, 'hotkeys.hold'),
    openMenu: options.stays.openMenu ?? wished(resolved, 'hotkeys.bind.open-menu'),
  };
  const asked = settings.filter(({ id, roles }) =>
    options.firstTen ? firstTen.includes(id) : roles.some((role) => options.roles.includes(role)),
  );
  const sheet = makeSheet({
    settings: asked,
    controls: [...device.controls.controls.keys()],
    stays: [stays.hold, stays.openMenu].filter((position) => position !== undefined),
  });
  return { value: { sheet, device, stays }, findings };
}

/** What the layers wish for the whole device: the frontend to be learnt is no instance yet. */
function wished({ candidates, device }: Resolved, setting: string): Position | undefined {
  const [best] = candidates
    .filter((candidate) => candidate.setting === setting && Object.keys(candidate.selectors).length === 0)
    .sort((a, b) => compareRank(b, a));
  return best === undefined
    ? undefined
    : positionsOf(best.wish).find((position) => device.controls.controls.has(position));
}

function positionsOf(wish: Wish): readonly Position[] {
  if (wish.kind === 'controls') return wish.wishes.flatMap((one) => (one.kind === 'control' ? [one.position] : []));
  if (wish.kind !== 'binds') return [];
  return wish.wishes.flatMap(({ press }) => {
    if (press.kind === 'chord') return [...press.positions];
    return press.kind === 'with-hold' || press.kind === 'alone' ? [press.position] : [];
  });
}
