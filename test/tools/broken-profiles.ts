// Breaks the demo a thousand times, each time by one mistake whose place and mend are known here, and counts what
// `check` makes of it. Usage: node test/tools/run.mjs test/tools/broken-profiles.ts [COUNT] [SEED] [--show]
import { isMap, isScalar, isSeq, parseDocument } from 'yaml';
import type { Finding } from '../../src/diagnostics/finding.ts';
import { hostPath } from '../../src/model/paths.ts';
import { openProject, profilePaths, runProfile, withoutTwins } from '../../src/pipeline.ts';
import { lineColumn } from '../../src/text/line-index.ts';
import { demoFiles } from '../support/demo.ts';
import { settings } from '../../src/vocabulary/registry.ts';
import { positions } from '../../src/vocabulary/positions.ts';

interface Spot {
  readonly path: readonly string[];
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly plain: boolean;
  /** Between braces, where the indent says nothing. */
  readonly flow: boolean;
}

interface Mistake {
  readonly kind: string;
  readonly file: string;
  readonly text: string;
  /** Line of the mistake in the broken text. */
  readonly line: number;
  /** What the mend should name; undefined: there is no one right mend. */
  readonly mend: string | undefined;
}

/** A small generator of pseudo-random numbers (Park and Miller 1988), so that a seed says it all. */
function randomizer(seed: number): (below: number) => number {
  let state = seed % 2147483647 || 1;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

const files = ['profiles/fen.yaml', 'profiles/tarn.yaml', 'profiles/mere.yaml', 'profiles/house.yaml'];
const original = demoFiles();
const texts = new Map(
  files.map((file) => {
    const read = original.read(hostPath(`/w/${file}`));
    return [file, read.kind === 'bytes' ? Buffer.from(read.bytes).toString() : ''] as const;
  }),
);

/** Keys and scalar values of a text with their paths, by a YAML reader used plainly. */
function spots(text: string): { keys: Spot[]; values: Spot[] } {
  const keys: Spot[] = [];
  const values: Spot[] = [];
  const visit = (node: unknown, path: readonly string[]): void => {
    if (isMap(node)) {
      for (const { key, value } of node.items) {
        if (!isScalar(key) || !key.range) continue;
        const name = String(key.source ?? key.value);
        keys.push({
          path: [...path, name],
          start: key.range[0],
          end: key.range[1],
          text: name,
          plain: key.type === 'PLAIN',
          flow: node.flow === true,
        });
        visit(value, [...path, name]);
      }
    } else if (isSeq(node)) node.items.forEach((item, index) => visit(item, [...path, String(index)]));
    else if (isScalar(node) && node.range)
      values.push({
        path,
        start: node.range[0],
        end: node.range[1],
        text: String(node.source ?? node.value),
        plain: node.type === 'PLAIN',
        flow: false,
      });
  };
  visit(parseDocument(text, { schema: 'failsafe' }).contents, []);
  return { keys, values };
}

/** One slip of the fingers: two letters swapped, one left out, doubled or another. */
function slip(word: string, random: (below: number) => number): string {
  const letters = [...word];
  const at = 1 + random(Math.max(1, letters.length - 2));
  const other = 'etaoinsr'.charAt(random(8));
  switch (random(4)) {
    case 0:
      letters.splice(at, 1);
      break;
    case 1:
      letters.splice(at, 0, letters[at] ?? other);
      break;
    case 2:
      [letters[at - 1], letters[at]] = [letters[at] ?? '', letters[at - 1] ?? ''];
      break;
    default:
      letters[at] = other;
  }
  return letters.join('');
}

const knownWords: ReadonlySet<string> = new Set([...settings.flatMap(({ id }) => id.split('.')), ...positions]);
const settingIds: ReadonlySet<string> = new Set(settings.map(({ id }) => id));
/** Keys of ours, not names that the person chose. */
const fixedKeys: ReadonlySet<string> = new Set([
  'extends',
  'catalog',
  'device',
  'frontends',
  'cores',
  'only',
  'hotkeys',
  'saves',
  'bind',
  'hold',
  'controls',
  'parts',
  'os',
  'body',
  'performance',
  'screen',
  'wifi',
  'dialect',
  'version',
  'root',
  'bits',
  'reserved',
  'press',
  'does',
  'loses',
  'label',
  'code',
  'codes',
  'filesystem',
  'capacity',
  'mounted-at',
  'games-root',
  'firmware-root',
  'control',
  'while',
  'choice',
  'display',
  'speed',
  'sound',
  'menus',
  'time',
  'power',
  'network',
  'networks',
  'artwork',
  'achievements',
  'width',
  'height',
  'diagonal',
  'allow',
  'finding',
  'because',
  'exit',
]);

function lineOf(text: string, offset: number): number {
  return lineColumn({ text }, offset).line;
}

const kinds = [
  'key typo',
  'word typo',
  'reference typo',
  'wrong type',
  'missing unit',
  'wrong indent',
  'duplicate',
  'unknown setting',
] as const;

function makeMistake(
  kind: (typeof kinds)[number],
  file: string,
  text: string,
  random: (below: number) => number,
): Mistake | undefined {
  const { keys, values } = spots(text);
  const pick = <T>(list: readonly T[]): T | undefined => list[random(Math.max(1, list.length))];
  const replace = (spot: Spot, put: string, mend: string | undefined): Mistake => ({
    kind,
    file,
    text: text.slice(0, spot.start) + put + text.slice(spot.end),
    line: lineOf(text, spot.start),
    mend,
  });
  const dotted = (spot: Spot): string => spot.path.filter((step) => !/^\d+$/.test(step)).join('.');
  const inSection = (spot: Spot): boolean =>
    settingIds.has(dotted(spot)) || settingIds.has(spot.path.slice(2).join('.'));
  switch (kind) {
    case 'key typo': {
      const spot = pick(
        keys.filter(
          (key) =>
            key.plain &&
            key.text.length > 3 &&
            (fixedKeys.has(key.text) || inSection(key)) &&
            !['capture'].includes(key.text) &&
            key.path[0] !== 'extra',
        ),
      );
      if (spot === undefined) return undefined;
      const put = slip(spot.text, random);
      return put === spot.text || knownWords.has(put) || fixedKeys.has(put) ? undefined : replace(spot, put, spot.text);
    }
    case 'word typo': {
      const spot = pick(
        values.filter(
          (value) =>
            value.plain &&
            value.text.length > 3 &&
            /^[a-z][a-z-]+$/.test(value.text) &&
            (positions.some((position) => position === value.text) ||
              [
                'built-in',
                'adapter',
                'upright',
                'wide',
                'folding',
                'held',
                'toggled',
                'box-front',
                'picture',
                'description',
                'true',
                'false',
                'name',
                'sleep',
              ].includes(value.text)) &&
            !/^(allow|refit|extra)$/.test(value.path[0] ?? '') &&
            !value.path.includes('loses') &&
            !value.path.includes('hands'),
        ),
      );
      if (spot === undefined) return undefined;
      const put = slip(spot.text, random);
      return put === spot.text || knownWords.has(put) || put.length < 3 ? undefined : replace(spot, put, spot.text);
    }
    case 'reference typo': {
      const spot = pick(
        values.filter(
          (value) =>
            value.text.length > 3 &&
            (value.path.at(-1) === 'extends' ||
              value.path.at(-1) === 'catalog' ||
              value.path.at(-1) === 'dialect' ||
              (value.path[0] === 'cores' && value.path[1] === 'choice') ||
              (value.path[0] === 'only' && value.path[2] === 'for' && value.path[3] !== 'game') ||
              /^BTN_|^KEY_|^ABS_/.test(value.text)),
        ),
      );
      if (spot === undefined || /\//.test(spot.text)) return undefined;
      const word = /^[A-Za-z0-9_-]+/.exec(spot.text)?.[0] ?? '';
      const put = slip(word, random);
      if (
        put === word ||
        /^\d/.test(put) ||
        ['BTN_', 'KEY_', 'ABS_'].some((stem) => word.startsWith(stem) && !put.startsWith(stem))
      )
        return undefined;
      return replace(spot, put + spot.text.slice(word.length), word);
    }
    case 'wrong type': {
      const spot = pick(
        values.filter(
          (value) =>
            value.plain &&
            ((/^(true|false)$/.test(value.text) && value.path[0] !== 'extra') ||
              (/^\d+$/.test(value.text) && /^(performance|width|height|bits|format)$/.test(value.path.at(-1) ?? ''))),
        ),
      );
      if (spot === undefined) return undefined;
      const boolean = /^(true|false)$/.test(spot.text);
      const put = boolean
        ? spot.text === 'true'
          ? pick(['yes', 'on', '1', 'enabled'])
          : pick(['no', 'off', '0', 'never'])
        : pick(['much', 'two', '[2]']);
      return put === undefined
        ? undefined
        : replace(
            spot,
            put,
            boolean && /^(yes|on|no|off)$/.test(put) ? spot.text : boolean ? 'true or false' : undefined,
          );
    }
    case 'missing unit': {
      const spot = pick(
        values.filter(
          (value) =>
            value.plain &&
            /^\d+(\.\d+)? (s|ms|min|h|x|MiB|KiB|GB|\/ day|in)$/.test(value.text) &&
            !value.text.endsWith(' in'),
        ),
      );
      if (spot === undefined) return undefined;
      const unit = spot.text.replace(/^[\d.]+ /, '');
      return replace(spot, spot.text.replace(/ .*$/, ''), unit.replace('/ ', ''));
    }
    case 'wrong indent': {
      const spot = pick(
        keys.filter(
          (key) =>
            key.plain &&
            !key.flow &&
            key.path.length >= 2 &&
            /\n {2,}$/.test(text.slice(0, key.start).replace(/[^\n ]*$/, '')) &&
            text.slice(text.lastIndexOf('\n', key.start) + 1, key.start).trim() === '' &&
            (fixedKeys.has(key.text) || inSection(key)) &&
            key.path[0] !== 'only',
        ),
      );
      if (spot === undefined) return undefined;
      const from = text.lastIndexOf('\n', spot.start) + 1;
      const more = random(2) === 0;
      const broken = text.slice(0, from) + (more ? '  ' : '') + text.slice(from + (more ? 0 : 2));
      return { kind, file, text: broken, line: lineOf(text, spot.start), mend: undefined };
    }
    case 'duplicate': {
      const spot = pick(
        keys.filter(
          (key) =>
            key.plain &&
            text.slice(text.lastIndexOf('\n', key.start) + 1, key.start).trim() === '' &&
            /^[^\n{[]*:[ ]+[^\n&|>]+\n/.test(text.slice(key.start)) &&
            !/^(profile|house)$/.test(key.text),
        ),
      );
      if (spot === undefined) return undefined;
      const from = text.lastIndexOf('\n', spot.start) + 1;
      const to = text.indexOf('\n', spot.start) + 1;
      const line = text.slice(from, to);
      if (/[{[](?![^\n]*[}\]])/.test(line)) return undefined;
      return {
        kind,
        file,
        text: text.slice(0, to) + line + text.slice(to),
        line: lineOf(text, spot.start) + 1,
        mend: 'Remove one of the two',
      };
    }
    case 'unknown setting': {
      const spot = pick(keys.filter((key) => key.plain && key.path.length === 2 && inSection(key)));
      if (spot === undefined) return undefined;
      const name = pick(['turbo-mode', 'brightness-boost', 'auto-magic', 'lens-flare', 'hyper-drive']) ?? 'turbo-mode';
      return replace(spot, name, 'remove it');
    }
  }
}

function places(finding: Finding): readonly { file: string; from: number; to: number }[] {
  return [finding.place, ...(finding.related ?? []).map((related) => related.place)].flatMap((place) =>
    place === undefined
      ? []
      : [
          {
            file: place.source.name,
            from: lineColumn(place.source, place.span.start).line,
            to: lineColumn(place.source, Math.max(place.span.start, place.span.end - 1)).line,
          },
        ],
  );
}

export interface Tally {
  readonly count: number;
  readonly crashed: number;
  readonly silent: number;
  readonly atLine: number;
  readonly mendable: number;
  readonly mended: number;
  readonly one: number;
}

/** Counts over `count` broken profiles. */
export function breakProfiles(count: number, seed: number, show: (text: string) => void = () => undefined): Tally {
  const random = randomizer(seed);
  let made = 0;
  let crashed = 0;
  let silent = 0;
  let atLine = 0;
  let mendable = 0;
  let mended = 0;
  let one = 0;
  while (made < count) {
    const kind = kinds[random(kinds.length)] ?? 'key typo';
    const file = files[random(files.length)] ?? '';
    const text = texts.get(file) ?? '';
    const mistake = makeMistake(kind, file, text, random);
    if (mistake === undefined || mistake.text === text) continue;
    made += 1;
    const disk = demoFiles({ [file]: () => mistake.text });
    let findings: readonly Finding[];
    try {
      const project = openProject(disk, hostPath('/w')).value;
      const found =
        project === undefined
          ? []
          : profilePaths(project).flatMap(
              ({ path }) => runProfile(project, path, { card: undefined, newest: false }).findings,
            );
      findings = withoutTwins(found).filter((finding) => finding.grade !== 'note');
    } catch (error) {
      crashed += 1;
      show(
        `CRASH ${mistake.kind} ${file}:${mistake.line}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
      );
      continue;
    }
    const errors = findings.filter((finding) => finding.grade === 'error');
    const told = `${mistake.kind} ${file}:${mistake.line}: ${mistake.text.split('\n')[mistake.line - 1]?.trim() ?? ''}\n    ${findings
      .map(
        (finding) =>
          `${finding.code} ${places(finding)
            .map((p) => `${p.file}:${p.from}`)
            .join(' ')} ${finding.detail} / ${finding.wayOut}`,
      )
      .join('\n    ')}`;
    if (findings.length === 0) silent += 1;
    const hit = findings.some((finding) =>
      places(finding).some((place) => place.file === file && place.from <= mistake.line && mistake.line <= place.to),
    );
    if (hit) atLine += 1;
    else show(`PLACE ${told}`);
    const { mend } = mistake;
    if (mend !== undefined) {
      mendable += 1;
      const offered = findings.some(
        (finding) =>
          finding.wayOut.includes(mend) || (finding.mend?.edits.some((edit) => edit.text.includes(mend)) ?? false),
      );
      if (offered) mended += 1;
      else show(`MEND (${mend}) ${told}`);
    }
    if (errors.length === 1 || (errors.length === 0 && findings.length === 1)) one += 1;
    else show(`COUNT ${told}`);
  }
  return { count, crashed, silent, atLine, mendable, mended, one };
}

const percent = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(1)} %`;
const isScript = process.argv[1]?.endsWith('broken-profiles.ts') ?? false;
if (isScript) {
  const args = process.argv.slice(2).filter((arg) => !arg.startsWith('--'));
  const show = process.argv.includes('--show') ? (text: string): void => console.log(text) : undefined;
  const tally = breakProfiles(Number(args[0] ?? 1000), Number(args[1] ?? 20261125), show);
  console.log(`${tally.count} profiles broken by one mistake each`);
  console.log(`crashed: ${tally.crashed}`);
  console.log(`said nothing: ${tally.silent}`);
  console.log(`reported at the line, or with a related place on it: ${percent(tally.atLine, tally.count)}`);
  console.log(`the right mend offered: ${percent(tally.mended, tally.mendable)} of ${tally.mendable} that have one`);
  console.log(`one mistake, one finding: ${percent(tally.one, tally.count)}`);
}
