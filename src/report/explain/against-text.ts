import { visible } from '../../diagnostics/visible.ts';
import type { InstancePair } from '../../model/comparison.ts';
import type {
  ExplainedCell,
  Explanation,
  LineFate,
  PartingStage,
  Road,
  RoadEnd,
  RoadLine,
} from '../../model/parting.ts';
import { placeLine } from '../../text/place-line.ts';
import { settingById } from '../../vocabulary/registry.ts';
import { scopeText } from '../fidelity.ts';
import type { Paint } from '../paint.ts';
import { count, wrap } from '../wrap.ts';

const partAt: Readonly<Record<PartingStage, string>> = {
  asked: 'They part at the kind of frontend.',
  lines: 'They part at the layers.',
  controls: 'They part at the controls.',
  cores: 'They part at the cores.',
  labels: 'They part at the labels.',
  ability: 'They part at what each can have.',
};

const fates: Readonly<Record<LineFate, string>> = {
  'has-the-say': 'has the say',
  'over-ruled': 'over-ruled',
  'out-of-reach': 'out of reach',
};

/** One setting: both ways from the layers to the file, and where they part. For a terminal. */
export function againstText(explanation: Explanation, setting: string, paint: Paint, width: number): string {
  const { a, b, cells } = explanation;
  const lines = [wrap(`${setting}: ${settingById(setting)?.description ?? ''}`, width, '')];
  if (cells.length === 0)
    lines.push(
      '',
      wrap(
        `No layer of ${a.shown} or ${b.shown} sets it for frontends that can be compared: each keeps what stands there.`,
        width,
        '',
      ),
    );
  for (const cell of cells) {
    lines.push('', paint.strong(visible(headOf(cell))));
    lines.push(...roadLines(a.shown, cell.a, width), ...roadLines(b.shown, cell.b, width));
    lines.push(wrap(visible(endingOf(cell)), width, '  '));
  }
  return `${lines.join('\n')}\n`;
}

/** Every setting that differs, with the point at which the sides part. */
export function partingsText(explanation: Explanation, width: number): string {
  const { a, b, pairs } = explanation;
  const groups = new Map<string, { readonly cell: ExplainedCell; readonly pairs: InstancePair[] }>();
  for (const cell of explanation.cells) {
    const key = JSON.stringify([
      cell.setting,
      cell.item,
      cell.scope,
      valueText(cell.a),
      valueText(cell.b),
      cell.parting,
    ]);
    const known = groups.get(key);
    if (known === undefined) groups.set(key, { cell, pairs: [cell.pair] });
    else known.pairs.push(cell.pair);
  }
  const held = pairs.filter((pair) => pair.a !== undefined && pair.b !== undefined);
  const lines: string[] = [
    wrap(
      visible(
        `Where ${a.shown} and ${b.shown} part: ${held.length === 0 ? 'no frontend of a kind that both have' : held.map(pairText).join(', ')}.`,
      ),
      width,
      '',
    ),
  ];
  for (const { cell, pairs: among } of groups.values()) {
    const where = [...(held.length > 1 ? [among.map(pairText).join(', ')] : []), ...scopeWords(cell)];
    const name = `${cell.setting}${cell.item === undefined ? '' : ` ${cell.item}`}`;
    lines.push('', wrap(visible(`${name}${where.length === 0 ? '' : ` (${where.join('; ')})`}`), width, ''));
    lines.push(wrap(visible(`${a.shown}: ${valueText(cell.a)}. ${b.shown}: ${valueText(cell.b)}.`), width, '  '));
    lines.push(wrap(visible(cell.parting?.says ?? 'The same here, other than around it.'), width, '  '));
  }
  const alone = pairs.flatMap((pair) =>
    pair.a === undefined || pair.b === undefined
      ? [`${pair.a ?? pair.b ?? ''} of ${pair.a === undefined ? b.shown : a.shown}`]
      : [],
  );
  if (alone.length > 0) lines.push('', wrap(visible(`Nothing to hold against: ${alone.join(', ')}.`), width, ''));
  const parted = new Set(
    explanation.cells.flatMap(({ setting, item, parting }) =>
      parting === undefined ? [] : [`${setting} ${item ?? ''}`],
    ),
  );
  lines.push(
    '',
    parted.size === 0
      ? 'No difference.'
      : `${count(parted.size, 'setting')} told: other values, other labels, and what one side cannot have.`,
  );
  if (parted.size > 0)
    lines.push(
      `More on one of them:\n  thumbwright explain ${visible(a.shown)} ${[...parted][0]?.split(' ')[0] ?? ''} --against ${visible(b.shown)}`,
    );
  return `${lines.join('\n')}\n`;
}

function pairText({ a, b }: InstancePair): string {
  return a === b || b === undefined ? (a ?? '') : a === undefined ? b : `${a} with ${b}`;
}

function scopeWords({ scope }: ExplainedCell): readonly string[] {
  return Object.keys(scope).length === 0 ? [] : [scopeText(scope)];
}

function headOf(cell: ExplainedCell): string {
  return [pairText(cell.pair), scopeText(cell.scope), ...(cell.item === undefined ? [] : [cell.item])].join(', ');
}

function endingOf({ parting, a, b }: ExplainedCell): string {
  if (parting !== undefined) return `${partAt[parting.stage]} ${parting.says}`;
  const spelled = (end: RoadEnd): string =>
    end.kind === 'written' ? JSON.stringify(end.keys.map(({ key, text }) => [key, text])) : end.kind;
  return spelled(a.end) === spelled(b.end)
    ? 'They do not part: no difference.'
    : 'They do not part: the same value, which each frontend writes in its own words.';
}

function valueText({ value }: Road): string {
  return value.kind === 'left-alone' ? 'left alone' : value.text;
}

const column = 14;

function roadLines(shown: string, road: Road, width: number): readonly string[] {
  const rows: (readonly [string, string])[] = [];
  if (road.unasked !== undefined) rows.push(['not asked', road.unasked]);
  for (const line of road.lines) rows.push([fates[line.fate], lineText(line)]);
  if (road.lines.length === 0 && road.unasked === undefined) rows.push(['no line', 'no layer speaks of it']);
  for (const { what, why } of road.passedOver) rows.push(['not had', `${what}: ${why}`]);
  if (road.control !== undefined) rows.push(['control', road.control]);
  rows.push(...endRows(road));
  return [
    wrap(visible(`${shown}: ${valueText(road)}`), width, '  '),
    ...rows.map(([name, text]) => {
      const [first = '', ...more] = wrap(visible(text), width - 4 - column, '').split('\n');
      return [`    ${name.padEnd(column)}${first}`, ...more.map((line) => ' '.repeat(4 + column) + line)].join('\n');
    }),
  ];
}

function lineText({ origin, text, why }: RoadLine): string {
  const short = text.length > 60 ? `${text.slice(0, 59)}…` : text;
  return `${placeLine(origin.place)} (${origin.layer}): ${short}${why === undefined ? '' : `; ${why}`}`;
}

function endRows({ end, dialect }: Road): readonly (readonly [string, string])[] {
  const by = `dialect ${dialect.name} ${dialect.version}, for version ${dialect.frontend ?? 'unknown'}`;
  switch (end.kind) {
    case 'left-alone':
      return [['written', 'nothing: what stands there is kept']];
    case 'cannot':
      return [['not written', `${end.why} (${by})`]];
    case 'written': {
      const places = new Set(end.keys.flatMap((key) => (key.dialect === undefined ? [] : [placeLine(key.dialect)])));
      return [
        ...(end.near === undefined ? [] : ([['only near', end.near]] as const)),
        ...end.keys.map(({ path, key, text }) =>
          key === undefined
            ? (['written', `the whole of ${path}`] as const)
            : (['written', `${key} in ${path}: ${keyText(text)}`] as const),
        ),
        ...(end.keys.length === 0 ? ([['written', 'together with other settings']] as const) : []),
        ['spelled by', [...places, by].join(', ')],
      ];
    }
  }
}

function keyText(text: string | undefined): string {
  return text === undefined ? 'taken out' : text === '' ? '(empty)' : text;
}
