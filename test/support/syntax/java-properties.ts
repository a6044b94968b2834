import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const source = fileURLToPath(new URL('ReadProperties.java', import.meta.url));
const unitsOf = (text: string): readonly number[] => Array.from({ length: text.length }, (_, k) => text.charCodeAt(k));
const toHex = (text: string): string =>
  unitsOf(text)
    .map((unit) => unit.toString(16).padStart(4, '0'))
    .join('');
const fromHex = (hex: string): string =>
  (hex.match(/.{4}/g) ?? []).map((unit) => String.fromCharCode(Number.parseInt(unit, 16))).join('');

/** What `java.util.Properties.load(Reader)` makes of each text; undefined for one that it refuses. */
export function readByJava(texts: readonly string[]): readonly (ReadonlyMap<string, string> | undefined)[] {
  const input = texts.map((text) => `${toHex(text)}\n`).join('');
  const done = spawnSync('java', [source], { input, encoding: 'latin1', maxBuffer: 1 << 29 });
  if (done.status !== 0) throw new Error(done.stderr);
  return done.stdout
    .trimEnd()
    .split('\n')
    .map((line) => {
      const [kind, ...cells] = line.split(' ');
      if (kind !== 'read') return undefined;
      const texts = cells.map((cell) => fromHex(cell.slice(1)));
      const held = new Map<string, string>();
      for (let k = 0; k + 1 < texts.length; k += 2) held.set(texts[k] ?? '', texts[k + 1] ?? '');
      return held;
    });
}
