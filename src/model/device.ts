import type { Place } from '../text/place.ts';
import type { Position } from '../vocabulary/positions.ts';

/** One thing that a control sends. `number` is the kernel's (linux/input-event-codes.h). */
export type ControlSource =
  | { readonly kind: 'key' | 'switch'; readonly input: string; readonly code: string; readonly number: number }
  | {
      readonly kind: 'axis';
      readonly input: string;
      readonly code: string;
      readonly number: number;
      readonly side: '+' | '-';
    };

export interface DeviceControl {
  readonly position: Position;
  readonly label?: string;
  /** In the order written; empty when nothing says what it sends. */
  readonly sources: readonly ControlSource[];
  readonly place: Place;
}

/** Absolute-axis facts of the kernel; unknown members are absent. */
export interface AxisFacts {
  readonly code: string;
  readonly number: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly fuzz?: number;
  readonly flat?: number;
  readonly resolution?: number;
}

/** Of the `I:` and `N:` lines of the kernel's list. */
export interface InputIdentity {
  readonly bus: number;
  readonly vendor: number;
  readonly product: number;
  readonly version: number;
  readonly name: string;
}

/** One kernel input device: all that it can send, ascending by number. An index is a rank within one input. */
export interface DeviceInput {
  readonly name: string;
  /** What the kernel says that it is; known from a capture only. */
  readonly identity?: InputIdentity;
  readonly keys: readonly { readonly code: string; readonly number: number }[];
  readonly axes: readonly AxisFacts[];
  /** EV_SW: the lid, a headphone plug. Counted by no numbering. */
  readonly switches?: readonly { readonly code: string; readonly number: number }[];
}

export interface DeviceControls {
  readonly inputs: readonly DeviceInput[];
  /** Whether the inputs are all there is (`codes:` or a capture): without it an index cannot be told. */
  readonly complete: boolean;
  readonly controls: ReadonlyMap<Position, DeviceControl>;
}

/** How a dialect numbers controls. */
export type Numbering =
  | { readonly order: 'sdl'; readonly version: string; readonly udev: boolean }
  | { readonly order: 'kernel-joystick' }
  | { readonly order: 'w3c' }
  | { readonly order: 'code' }
  | { readonly order: 'name' }
  | { readonly order: 'position' }
  /** The dialect's own words, by position. */
  | { readonly order: 'table'; readonly table: Readonly<Record<string, string>> };

/**
 * One way in which a numbering can name a control. `text` forms are code numbers, names, positions or table words.
 * `source` is absent where the numbering goes by place and nothing says what the control sends.
 */
export type Numbered =
  | { readonly form: 'button'; readonly index: number; readonly source?: ControlSource }
  | { readonly form: 'axis'; readonly axis: number; readonly side: '+' | '-'; readonly source?: ControlSource }
  | {
      readonly form: 'hat';
      readonly hat: number;
      readonly direction: 'up' | 'right' | 'down' | 'left';
      readonly source: ControlSource;
    }
  | { readonly form: 'text'; readonly text: string };

export interface Part {
  readonly name: string;
  readonly filesystem?: string;
  /** Bytes; absent when unknown. */
  readonly capacity?: number;
  /** Bytes. */
  readonly allocationUnit?: number;
  readonly mountedAt?: string;
  readonly gamesRoot?: string;
  readonly firmwareRoot?: string;
  readonly survivesReimage?: boolean;
}
