import type { Files } from '../files/contract.ts';
import type { Disk } from '../files/disk.ts';
import type { HostPath } from '../model/paths.ts';

/** 0 done; 1 the input has problems, all reported; 2 wrong usage; 3 the disk or card failed, nothing lost. */
export type ExitStatus = 0 | 1 | 2 | 3;

/** What git printed; `absent`: it is not installed. */
export type GitAnswer =
  | { readonly kind: 'absent' }
  | { readonly kind: 'ran'; readonly status: number; readonly out: Uint8Array; readonly said: string };

/** Everything of the outside world that a verb may touch; `cli.ts` makes it. */
export interface Shell {
  readonly files: Files;
  /** The same disk in single steps, for what must survive being killed. */
  readonly disk: Disk;
  /** The folder in which the person stands. */
  readonly here: HostPath;
  /** Results: standard output. */
  out(text: string): void;
  /** Messages: standard error. */
  say(text: string): void;
  /** Whether each of the two is a terminal that takes colour. */
  readonly colour: { readonly out: boolean; readonly say: boolean };
  /** Columns of the terminal, 80 where there is none. */
  readonly width: number;
  /** A path the person wrote, from where they stand. */
  path(written: string): HostPath;
  /** A path of the machine, shown relative to where the person stands. */
  show(path: HostPath): string;
  /** Asks on the terminal and waits for a line; undefined where nobody is there to answer. `hidden`: not echoed. */
  ask(question: string, hidden?: 'hidden'): Promise<string | undefined>;
  /** Variables of the environment, by name. */
  readonly environment: ReadonlyMap<string, string>;
  /** The person's home folder, which is never a card. */
  readonly home: HostPath | undefined;
  /** Now, as in `2026-11-25T15:04:05Z`. */
  stamp(): string;
  /** A new random token of 16 lower-case hex digits, for ids. */
  token(): string;
  /** Runs git in a folder, only to read; it is never asked for anything that goes over a network. */
  git(folder: HostPath, args: readonly string[]): GitAnswer;
  /** This process, and whether another is alive: for locks. */
  readonly pid: number;
  isAlive(pid: number): boolean;
  /** Calls back when something below the folders changes, until the process is interrupted. */
  watch(folders: readonly HostPath[], changed: (name: string) => void): Promise<void>;
}

export type OptionValue = string | boolean | readonly string[] | undefined;
export type Options = Readonly<Record<string, OptionValue>>;

export interface OptionSpec {
  /** As in `--out DIR`, `--strict`, `-h, --help`. */
  readonly flags: string;
  readonly says: string;
  /** May be given several times. */
  readonly many?: true;
}

/** How a verb is called; its code is loaded only when it is. */
export interface VerbSpec {
  readonly name: string;
  /** As in `[PROFILE...]`. */
  readonly arguments: string;
  readonly summary: string;
  /** A few paragraphs, with example commands alone on their lines. */
  readonly help: string;
  readonly options: readonly OptionSpec[];
  load(): Promise<{ run: VerbRun }>;
}

export type VerbRun = (shell: Shell, args: readonly string[], options: Options) => ExitStatus | Promise<ExitStatus>;

export function flag(options: Options, name: string): boolean {
  return options[name] === true;
}

export function text(options: Options, name: string): string | undefined {
  const value = options[name];
  return typeof value === 'string' ? value : undefined;
}

export function texts(options: Options, name: string): readonly string[] {
  const value = options[name];
  return Array.isArray(value) ? value.map(String) : typeof value === 'string' ? [value] : [];
}
