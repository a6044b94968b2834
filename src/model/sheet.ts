import type { SettingDefinition } from '../vocabulary/types.ts';
import type { Value } from './value.ts';

/** One entry of the menu to change. `to` is undefined where the person picks a value and writes it down. */
export interface SheetChange {
  readonly setting: SettingDefinition;
  readonly to: Value | undefined;
}

/** One copy of the frontend's folder, and what is done before it is taken. */
export interface SheetCopy {
  readonly number: number;
  readonly kind: 'idle' | 'idle-again' | 'hotkeys' | 'switches';
  readonly changes: readonly SheetChange[];
}

export interface Sheet {
  readonly copies: readonly SheetCopy[];
  /** What a change by menu cannot teach, and why. */
  readonly leftOut: readonly { readonly setting: SettingDefinition; readonly why: string }[];
}
