import { wordsOf } from './lexicon.ts';
import type { SeenKey } from './seen-key.ts';
import type { ValueKind } from './value-kind.ts';

/** Words that say that a group of keys is about controls. */
const groupWords: ReadonlySet<string> = new Set(
  'hotkey hotkeys shortcut shortcuts bind binds binding bindings chord chords combo combos button buttons keys key input inputs controls control actions keymap keyboard joypad gamepad pad tasten teclas touches botoes botones tasti toetsen atalhos atajos raccourcis kuerzel hands grips'.split(
    ' ',
  ),
);

function saysControls(text: string): boolean {
  return wordsOf(text).some(({ text: word }) => groupWords.has(word));
}

/** The place of a key among others: its file and the path above it. */
export function groupOf({ file, parts }: SeenKey): string {
  return `${file}\0${parts.slice(0, -1).join('\0')}`;
}

interface Judged {
  readonly seen: SeenKey;
  readonly value: ValueKind;
}

/**
 * How far each key looks as if it held a control, 0 to 1: by its text, by words of its group or its own, and by its
 * neighbours in the group and file, since hotkeys stand together and are written alike.
 */
export function bindLooks(keys: readonly Judged[]): ReadonlyMap<SeenKey, number> {
  const groups = new Map<string, Judged[]>();
  for (const one of keys) {
    const at = groupOf(one.seen);
    const known = groups.get(at);
    if (known === undefined) groups.set(at, [one]);
    else known.push(one);
  }
  const found = new Map<SeenKey, number>();
  // Files that are about controls and nothing much else.
  const files = new Map<string, { all: number; about: number }>();
  for (const members of groups.values()) {
    const file = members[0]?.seen.file ?? '';
    const counts = files.get(file) ?? { all: 0, about: 0 };
    counts.all += members.length;
    if (
      members[0]?.seen.parts.slice(0, -1).some(saysControls) === true ||
      members.some(({ value }) => value.kind === 'control' && value.certain)
    )
      counts.about += members.length;
    files.set(file, counts);
  }
  for (const members of groups.values()) {
    const [first] = members;
    if (first === undefined) continue;
    const said = first.seen.parts.slice(0, -1).some(saysControls);
    const certain = members.filter(({ value }) => value.kind === 'control' && value.certain).length;
    const loose = members.filter(({ value }) => value.kind === 'control').length;
    const file = files.get(first.seen.file);
    const mostly =
      (certain >= 3 && certain * 4 >= members.length) ||
      (file !== undefined && file.all >= 6 && file.about * 3 >= file.all * 2);
    const shapes = new Map<string, number>();
    for (const { value } of members) {
      const shape = shapeOf(value);
      shapes.set(shape, (shapes.get(shape) ?? 0) + 1);
    }
    for (const { seen, value } of members) {
      const own = saysControls(seen.parts.at(-1) ?? '');
      let look = 0;
      if (value.kind === 'control') look = value.certain ? 1 : said || own || loose >= 3 ? 1 : 0.4;
      else if (value.kind === 'switch')
        look =
          /^[01]$/.test(value.text) && (said || own)
            ? 0.6
            : /^(no|off|n)$/i.test(value.text) && (mostly || (said && own))
              ? 0.6
              : 0;
      else if (value.kind === 'number')
        look =
          value.digits && value.unit === ''
            ? said || own
              ? (shapes.get(shapeOf(value)) ?? 0) >= 3 || value.amount === -1
                ? 1
                : 0.85
              : (shapes.get(shapeOf(value)) ?? 0) >= 6
                ? 0.6
                : 0.25
            : 0;
      else if (value.kind === 'word' || value.kind === 'empty' || value.kind === 'list')
        look = said || mostly ? 1 : own || loose >= 3 ? 0.85 : 0.2;
      else if (value.kind === 'text')
        look =
          value.text.length <= 3 && (said || own || mostly)
            ? 1
            : (said || mostly) && value.text.length <= 30
              ? 0.8
              : 0.1;
      found.set(seen, look);
    }
  }
  return found;
}

function shapeOf(value: ValueKind): string {
  return value.kind === 'number' ? `number${String(Math.abs(value.amount)).length}` : value.kind;
}
