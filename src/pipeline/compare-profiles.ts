import { whyNotCore } from '../2-resolve/choose-core.ts';
import { compare } from '../compare/compare.ts';
import type { Side } from '../compare/side.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { Comparison } from '../model/comparison.ts';
import type { HostPath } from '../model/paths.ts';
import { prepareProfile } from '../pipeline.ts';
import type { PreparedParts, Project } from '../pipeline.ts';

/** One side as a person names it: a profile of a workspace (as it is, or as it was), or one instance of it. */
export interface NamedSide {
  /** `fen`, `fen@HEAD~1`, `fen#harrow-hall`. */
  readonly shown: string;
  readonly project: Project;
  readonly path: HostPath;
  readonly instance: string | undefined;
}

/** A side that could be compiled. */
export interface ReadSide {
  readonly named: NamedSide;
  readonly parts: PreparedParts;
}

export function prepareSide({ project, path }: NamedSide): Outcome<PreparedParts | undefined> {
  const { parts, findings } = prepareProfile(project, path, false);
  return { value: parts, findings };
}

export function sideOf({ named, parts }: ReadSide): Side {
  const { resolved, lenses } = parts;
  const { catalog, device } = resolved;
  return {
    shown: named.shown,
    resolved,
    lenses,
    holds: resolved.holds,
    only: named.instance,
    whyNoCore: (core, system, player) =>
      catalog === undefined ? undefined : whyNotCore(core, system, player, device, catalog),
  };
}

/** Two profiles, or two instances, side by side. */
export function compareSides(a: ReadSide, b: ReadSide): Comparison {
  return compare({ a: sideOf(a), b: sideOf(b) });
}
