import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';
import type { SideEffect } from './judge.ts';
import type { Site } from './layers.ts';
import type { Left } from './wanted-of.ts';
import type { Wanted } from './wanted.ts';
import type { World } from './world.ts';
import type { Rewritten } from './write-site.ts';

/** One thing carried into the profile. */
export interface Adopted {
  readonly wanted: Wanted;
  readonly site: Site;
  /** Undefined: taken out. */
  readonly value: PlainYaml | undefined;
  /** What else that changes. */
  readonly others: readonly SideEffect[];
  /** Other profiles that take the value from the same line. */
  readonly shared: readonly string[];
  /** Other layers at which it would win. */
  readonly alternatives: readonly Alternative[];
}

export interface Alternative {
  readonly site: Site;
  readonly value: PlainYaml | undefined;
  readonly others: readonly SideEffect[];
  readonly shared: readonly string[];
}

export interface Found {
  readonly adopted: readonly Adopted[];
  readonly left: readonly Left[];
  readonly texts: ReadonlyMap<string, Rewritten>;
  readonly world: World;
}
