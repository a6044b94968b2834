import { createHash } from 'node:crypto';
import type { CardPath } from '../model/paths.ts';
import { splitCardPath } from '../model/paths.ts';
import { encodeText } from '../text/encoding.ts';
import text from './bundle.sh';
import { cksum } from './cksum.ts';
import { quoteForShell } from './fetch-script.ts';
import { lineEdits } from './line-edits.ts';
import type { LineEdits, LineScheme } from './line-edits.ts';

/** One file that the installer is to change. */
export interface BundleFile {
  readonly path: CardPath;
  /** As the plan saw it; undefined: there was none. */
  readonly before: Uint8Array | undefined;
  /** Undefined: it is removed. */
  readonly after: Uint8Array | undefined;
  readonly mode: number | undefined;
  readonly owner: string | undefined;
  /** Names of programs that rewrite it when they end. */
  readonly processes: readonly string[];
  /** How its lines are known again; undefined: only the whole file is. */
  readonly scheme: LineScheme | undefined;
}

export interface BundleTarget {
  readonly device: string;
  readonly card: string;
  /** Where the device mounts each part. */
  readonly mounts: ReadonlyMap<string, string>;
  /** The part on which what stood there before is kept: one that keeps modes, where there is one. */
  readonly home: string;
  readonly files: readonly BundleFile[];
}

export interface Bundle {
  readonly script: Uint8Array;
  /** SHA-256 of all that is sealed: the name of the bundle. */
  readonly seal: string;
  /** Files of which only our own lines are checked; of the others the whole text is. */
  readonly byLine: readonly CardPath[];
}

/**
 * The script that carries planned files to a device and puts them in place there: `bundle.sh` with its data filled in,
 * under a seal. It holds the texts as they will stand, secrets included.
 */
export function bundleScript(target: BundleTarget): Bundle {
  const described: string[] = [];
  const contents: string[] = [];
  const byLine: CardPath[] = [];
  for (const [index, file] of target.files.entries()) {
    const id = index + 1;
    const edits = editsOf(file);
    if (edits !== undefined) byLine.push(file.path);
    described.push(`${id})\n${description(file, edits !== undefined)}\n;;`);
    if (edits !== undefined)
      contents.push(
        `${id}.forward)\n${printed(editText(edits.forward))}\n;;`,
        `${id}.back)\n${printed(editText(edits.back))}\n;;`,
      );
    else if (file.after !== undefined) contents.push(`${id})\n${printed(file.after)}\n;;`);
  }
  const choice = (name: string, cases: readonly string[]): string =>
    `${name}() {\ncase $1 in\n${cases.map((one) => `${one}\n`).join('')}*) return 1 ;;\nesac\n}`;
  const mounts = [...target.mounts].map(
    ([part, mount]) => `${part})\nmount=${quoteForShell(mount.replace(/\/+$/, ''))}\n;;`,
  );
  const data = [
    `device=${quoteForShell(target.device)}`,
    `card=${quoteForShell(target.card)}`,
    `parts=${quoteForShell([...target.mounts.keys()].join(' '))}`,
    `home_part=${quoteForShell(target.home)}`,
    `count=${target.files.length}`,
    choice('describe', described),
    choice('mount_of', mounts),
    choice('content', contents),
  ].join('\n');
  const [head = '', body = ''] = text
    .replaceAll('\r\n', '\n')
    .replace(/(?<=# data: begin\n)[^]*?(?=# data: end\n)/, () => `${data}\n`)
    .split(/(?<=\n# sealed\n)/);
  const sealed = Buffer.from(body, 'latin1');
  const seal = createHash('sha256').update(sealed).digest('hex');
  return {
    script: Buffer.concat([
      Buffer.from(head.replace(/^seal=''\nsum=''$/m, `seal='${seal}'\nsum='${cksum(sealed)}'`), 'latin1'),
      sealed,
    ]),
    seal,
    byLine,
  };
}

function editsOf({
  before,
  after,
  scheme,
}: BundleFile): { readonly forward: LineEdits; readonly back: LineEdits } | undefined {
  if (scheme === undefined || before === undefined || after === undefined) return undefined;
  const [from, to] = [Buffer.from(before).toString('latin1'), Buffer.from(after).toString('latin1')];
  // What awk and the shell use for themselves.
  if (/[\0\u0001]/.test(from + to)) return undefined;
  const forward = lineEdits(from, to, scheme);
  const back = lineEdits(to, from, scheme);
  return forward === undefined || back === undefined ? undefined : { forward, back };
}

function description({ path, before, after, mode, owner, processes }: BundleFile, lines: boolean): string {
  const { part, path: inPart } = splitCardPath(path);
  const fields = {
    act: lines ? 'lines' : after === undefined ? 'remove' : 'whole',
    part,
    path: inPart,
    mode: mode === undefined ? '' : mode.toString(8),
    // As a direct write does it: the owner's own group.
    owner: owner === undefined ? '' : owner === 'root' ? '0:0' : `${owner}:${owner}`,
    process: processes.join('\n'),
    before_hash: before === undefined ? '' : sha256(before),
    before_sum: before === undefined ? '' : cksum(before),
    after_hash: after === undefined ? '' : sha256(after),
    after_sum: after === undefined ? '' : cksum(after),
  };
  return Object.entries(fields)
    .map(([name, value]) => `${name}=${quoteForShell(Buffer.from(encodeText(value)).toString('latin1'))}`)
    .join('\n');
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** The edits as the installer's awk reads them: a letter, then the text, a line each. */
export function editText({ scheme, counts, hunks, ended }: LineEdits): Uint8Array {
  const lines = [
    `y${scheme.sections}`,
    `e${scheme.keyEnd}`,
    `z${ended.map((end) => (end ? '1' : '0')).join('')}`,
    ...counts.flatMap(({ section, key, count }) => [`s${section}`, `t${key}`, `k${count}`]),
    ...hunks.flatMap((hunk) => [
      'h',
      ...(hunk.before === undefined ? [] : [`b${hunk.before}`]),
      `p${hunk.beforeIn}`,
      ...(hunk.after === undefined ? [] : [`a${hunk.after}`]),
      `q${hunk.afterIn}`,
      ...(hunk.open === undefined ? [] : [`g${hunk.open}`]),
      `i${hunk.oldIn}`,
      ...hunk.old.map((line) => `o${line}`),
      ...hunk.fresh.map((line) => `n${line}`),
    ]),
  ];
  return Buffer.from(lines.map((line) => `${line}\n`).join(''), 'latin1');
}

/** Most bytes of one printf: far below what a shell without its own printf may hand to a program. */
const chunk = 4096;

/** Commands that print bytes, in ASCII: what is no plain letter as an octal escape of the format (POSIX printf, XBD 5). */
function printed(bytes: Uint8Array): string {
  const lines: string[] = [];
  let word = '';
  let taken = 0;
  const end = (): void => {
    if (word !== '') lines.push(`printf '${word}'`);
    word = '';
    taken = 0;
  };
  for (const byte of bytes) {
    word += spelled(byte, taken === 0);
    taken += 1;
    if (byte === 0x0a || taken >= chunk) end();
  }
  end();
  return lines.length === 0 ? ':' : lines.join('\n');
}

function spelled(byte: number, first: boolean): string {
  if (byte === 0x0a) return '\\n';
  const octal = `\\${byte.toString(8).padStart(3, '0')}`;
  // A word that begins with a hyphen is an option to some.
  if (byte < 0x20 || byte > 0x7e || (first && byte === 0x2d)) return octal;
  const letter = String.fromCharCode(byte);
  if (letter === '%') return '%%';
  return letter === "'" || letter === '\\' ? octal : letter;
}
