/** What a setting's values are. The profile's spelling of each is in `shapes/`. */
export type ValueType =
  | { readonly kind: 'boolean' }
  /** One word of a closed list. */
  | { readonly kind: 'word'; readonly of: readonly string[] }
  | { readonly kind: 'number'; readonly whole: boolean; readonly min?: number; readonly max?: number }
  /** An amount with its unit, or one of the words (`never`). Bounds are in the measure's base unit. */
  | {
      readonly kind: 'quantity';
      readonly measure: Measure;
      readonly words?: readonly string[];
      readonly min?: number;
      readonly max?: number;
    }
  /** Free text; `words` are suggestions that need no dialect entry of their own. */
  | { readonly kind: 'text'; readonly pattern?: string; readonly examples: readonly string[] }
  /** `secret:NAME`; the value itself never appears. */
  | { readonly kind: 'secret' }
  /** One control: a position, or `{ label: A }`; a list is wishes, best first. */
  | { readonly kind: 'control' }
  /** A hotkey. */
  | { readonly kind: 'bind'; readonly whiles: boolean }
  /** `part:folder`. */
  | { readonly kind: 'place' }
  /** Several words of a closed list; `ordered` when their order says something. */
  | { readonly kind: 'words'; readonly of: readonly string[]; readonly ordered: boolean }
  /** Several free texts; `of` says what each is. */
  | {
      readonly kind: 'texts';
      readonly of: 'language' | 'system' | 'game' | 'text';
      readonly examples: readonly string[];
    }
  /** Wi-Fi networks: a list of `{ name, password?, hidden? }`. */
  | { readonly kind: 'networks' }
  /** By system: a list of cores, best first, each `core` or `instance/core`. */
  | { readonly kind: 'cores' }
  /** By core: option name to text, passed through. */
  | { readonly kind: 'options' }
  /** By list name: game paths. */
  | { readonly kind: 'lists' };

/** Base units: time ms, size bytes, multiplier 1, percent 1, rate 1 a day, gain 1 dB. */
export type Measure = 'time' | 'size' | 'multiplier' | 'percent' | 'rate' | 'gain';

/** Narrowest last, as the profile ranks them. `instance` is every setting's. */
export type Scope = 'instance' | 'core' | 'system' | 'game';

export type Role = 'player' | 'menu' | 'shelf' | 'system';

/** One thing that can be chosen. */
export interface SettingDefinition {
  /** Group and name: `saves.state-on-exit`; deeper names for grouped leaves: `speed.rewind.memory`. */
  readonly id: string;
  readonly type: ValueType;
  /** The scopes it may be given for. */
  readonly scopes: readonly Scope[];
  readonly roles: readonly Role[];
  /** Rewritten in play (volume, slot): never reported as a hand change. */
  readonly volatile: boolean;
  /** One or two plain sentences: hover text in an editor, and the guide. */
  readonly description: string;
  /** Words of the trade by which a frontend may spell it, most telling first (for `learn`). */
  readonly words: readonly string[];
  /** Words of the trade that say its contrary: a frontend that has them turns its sense round. */
  readonly contraries?: readonly string[];
  /** What goes wrong when it is wrong; absent when nothing worth a warning. */
  readonly hazard?: string;
  /** How it reads in a sentence, with `{value}`: 'keep the place on leaving: {value}'. */
  readonly reads: string;
  /** Hotkeys only: loses something when pressed by mistake (reset-game, load-state). */
  readonly destructive?: true;
  /** Hotkeys only: pressed often (fast-forward, open-menu, pause, save-state). */
  readonly frequent?: true;
}
