import type { Place } from '../text/place.ts';
import type { ComparedSide, InstancePair, SaidOrigin, SideValue } from './comparison.ts';
import type { CardPath } from './paths.ts';
import type { ScopePoint } from './resolved.ts';

/** Where on the way from the layers to the file two sides can part, in the order of that way. */
export type PartingStage =
  /** A frontend of one side is of a kind that does not have the setting. */
  | 'asked'
  /** Other lines have the say. */
  | 'lines'
  /** One line has the say on both, and each device has other controls. */
  | 'controls'
  /** One line has the say on both, and each frontend has other cores. */
  | 'cores'
  /** The same control, with another label. */
  | 'labels'
  /** The same value, which one side cannot have. */
  | 'ability';

/** The first point at which two sides part. */
export interface Parting {
  readonly stage: PartingStage;
  /** Sentences that name sides, lines and values. */
  readonly says: string;
}

export type LineFate = 'has-the-say' | 'over-ruled' | 'out-of-reach';

/** One line that says something of the setting, as it was weighed for one side. */
export interface RoadLine {
  readonly origin: SaidOrigin;
  /** As written, its blanks evened out; `null` clears what lower layers say. */
  readonly text: string;
  readonly fate: LineFate;
  /** Of a line out of reach: a clause, 'it is only for system burdock'. */
  readonly why: string | undefined;
}

/** One key that says the value; without a key: the whole file is made from a template. */
export interface RoadKey {
  readonly path: CardPath;
  readonly key: string | undefined;
  /** Undefined: the key is taken out, or the file is whole. */
  readonly text: string | undefined;
  /** The line of the dialect that spells it; undefined for what no line of a dialect spells. */
  readonly dialect: Place | undefined;
}

/** What becomes of a value in the frontend's files. */
export type RoadEnd =
  /** Nothing is said: what stands there is kept. */
  | { readonly kind: 'left-alone' }
  /** `near`: what the frontend makes of it, where that is only near. */
  | { readonly kind: 'written'; readonly keys: readonly RoadKey[]; readonly near: string | undefined }
  /** A clause. */
  | { readonly kind: 'cannot'; readonly why: string };

/** One side's way from the layers to the file, for one setting at one scope. */
export interface Road {
  /** Why the frontend is not asked at all; undefined: it is. A clause. */
  readonly unasked: string | undefined;
  /** Those that count most first. */
  readonly lines: readonly RoadLine[];
  /** Wishes of the line that has the say that could not be had. */
  readonly passedOver: readonly { readonly what: string; readonly why: string }[];
  /** How the line names its control, and where that is: '{ label: A } is east'. */
  readonly control: string | undefined;
  readonly value: SideValue;
  readonly dialect: { readonly name: string; readonly version: string; readonly frontend: string | undefined };
  readonly end: RoadEnd;
}

/** One setting at one scope of one pair of frontends. */
export interface ExplainedCell {
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
  readonly pair: InstancePair;
  readonly a: Road;
  readonly b: Road;
  /** Undefined: they do not part. */
  readonly parting: Parting | undefined;
}

/** Why one side's settings are other than another one's. One computed thing, for every renderer. */
export interface Explanation {
  readonly a: ComparedSide;
  readonly b: ComparedSide;
  readonly pairs: readonly InstancePair[];
  /** In vocabulary order, wide scopes before narrow ones. */
  readonly cells: readonly ExplainedCell[];
}
