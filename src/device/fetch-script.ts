import text from './fetch.sh';
import { pressOrderText } from './press-order.ts';

/** What the script is made for. */
export interface FetchTarget {
  /** Name of the profile, or of the profile to be. */
  readonly device: string;
  /** Folder in which the device mounts its games part; undefined: the part on which the script lies. */
  readonly games: string | undefined;
  /** Folders to copy, as the device sees them, each with the name it gets in the result (`settings`, `sill`). */
  readonly folders: readonly { readonly name: string; readonly path: string }[];
  /** Folders in which core files lie: listed with size and hash. */
  readonly coreFolders: readonly string[];
  /** Positions in the order in which they are to be pressed. */
  readonly pressTest: readonly string[];
  /** Seconds to press them in; 0: no press test. */
  readonly seconds: number;
}

/** Any text as one word of a POSIX shell (XCU 2.2.2): in single quotes, each of which is closed, escaped and opened again. */
export function quoteForShell(word: string): string {
  return `'${word.replaceAll("'", "'\\''")}'`;
}

/** Whether the script can be told of a path: its lists part names by line ends and tabs. */
export function isTellable(path: string): boolean {
  return path.startsWith('/') && !/[\0-\x1f\x7f]/.test(path);
}

/**
 * The script that a device runs to bring its files and controls: `fetch.sh` with its settings filled in. It writes only
 * below `thumbwright-fetch/NUMBER` of the games part, a new number each time, and ends in DONE.txt. Files of up to 1 MiB
 * are copied; larger ones and links are listed.
 */
export function fetchScript(target: FetchTarget): string {
  const seconds = Math.max(0, Math.floor(target.seconds));
  const settings = {
    device: target.device,
    games: target.games ?? '',
    folders: outermost(target.folders)
      .map(({ name, path }) => `${name}\t${path}`)
      .join('\n'),
    cores: target.coreFolders.join('\n'),
    press: target.pressTest.join('\n'),
    order: pressOrderText(target.pressTest, seconds).trimEnd(),
  };
  const lines = Object.entries(settings).map(([name, value]) => `${name}=${quoteForShell(value)}`);
  return text
    .replaceAll('\r\n', '\n')
    .replace(
      /(?<=# settings: begin\n)[^]*?(?=# settings: end\n)/,
      () => `${[...lines, `seconds=${seconds}`].join('\n')}\n`,
    );
}

/** A folder that lies in another of the list comes with that one. */
function outermost(folders: FetchTarget['folders']): FetchTarget['folders'] {
  const inside = (path: string, other: string): boolean => path.startsWith(`${other.replace(/\/+$/, '')}/`);
  return folders.filter(
    ({ path }, index) => !folders.some((other, at) => inside(path, other.path) || (path === other.path && at < index)),
  );
}
