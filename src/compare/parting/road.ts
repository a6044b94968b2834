import { plainText } from '../../model/plain-text.ts';
import type { Compiled, Edit, FidelityEntry, WholeFile } from '../../model/compiled.ts';
import type { SaidOrigin } from '../../model/comparison.ts';
import type { Road, RoadEnd, RoadKey, RoadLine } from '../../model/parting.ts';
import type { Candidate, Instance, ScopePoint, Weighed } from '../../model/resolved.ts';
import { isPosition } from '../../vocabulary/positions.ts';
import { settingById } from '../../vocabulary/registry.ts';
import { positionsOf } from '../express.ts';
import { canHold } from '../find-inabilities.ts';
import { pointKey, widerThan } from '../scope-points.ts';
import { shownControl } from '../shown-value.ts';
import type { Cell, Side, Sides } from '../side.ts';
import { hadWish } from './part-fit.ts';
import { evened, textOf, unreachedText } from './seen.ts';
import type { Seen } from './seen.ts';

/** The whole way of one side, from the layers to the file. */
export function roadOf(sides: Sides, compiled: Compiled, cell: Cell, side: Seen): Road {
  const { instance, account } = side;
  const unasked = unaskedOf(instance, cell.setting);
  const lines = unasked === undefined ? account.lines : [];
  return {
    unasked,
    lines: lines.filter(({ candidate }) => isAbout(candidate, cell.scope)).map((line) => roadLine(line, side)),
    passedOver: account.rejected.map(({ what, why }) => ({ what, why })),
    control: controlOf(sides[side.which], side),
    value: side.value,
    dialect: {
      name: instance?.dialect.data.dialect ?? '',
      version: instance?.dialect.data.version ?? '',
      frontend: instance?.version,
    },
    end: endOf(sides, compiled, cell, side),
  };
}

/** Why a frontend is not asked for a setting: a clause. */
export function unaskedOf(instance: Instance | undefined, setting: string): string | undefined {
  const roles = settingById(setting)?.roles ?? [];
  if (instance === undefined || roles.some((role) => instance.roles.includes(role))) return undefined;
  return `it is a matter of a ${roles.join(' or ')}, and ${instance.name} is a ${instance.roles.join(' and ')}`;
}

/** A line of a section that names a core or system is no other line's rival elsewhere. */
function isAbout({ implied }: Candidate, scope: ScopePoint): boolean {
  return (['core', 'system'] as const).every((name) => implied[name] === undefined || implied[name] === scope[name]);
}

function roadLine(line: Weighed, { top, instance }: Seen): RoadLine {
  const { candidate, unreached } = line;
  const origin: SaidOrigin = { place: candidate.origin.place, layer: candidate.origin.layer };
  const text = textOf(candidate);
  if (unreached !== undefined) return { origin, text, fate: 'out-of-reach', why: unreachedText(unreached, instance) };
  return { origin, text, fate: line === top ? 'has-the-say' : 'over-ruled', why: undefined };
}

/** How the wish that was had names its control: by what stays the same on every device, or by what is printed there. */
function controlOf({ resolved }: Side, side: Seen): string | undefined {
  const had = hadWish(side);
  if (had === undefined || side.value.kind !== 'value') return undefined;
  const at = positionsOf(side.value.value);
  if (at.length === 0) return undefined;
  const { source, span } = had.place;
  const written = evened(source.text.slice(span.start, span.end)).trim();
  const byLabel = !isPosition(written) && /\blabel\s*:/.test(written);
  const controls = at.map((position) => shownControl(position, resolved.device.controls)).join(' with ');
  return `named by ${byLabel ? 'label' : 'position'}, as ${written}: ${controls} on ${resolved.device.name}`;
}

/** What is said at a scope, or else at the nearest wider one: a frontend is told no more than it needs. */
function nearestScope<T extends { readonly scope: ScopePoint }>(all: readonly T[], scope: ScopePoint): readonly T[] {
  for (const point of [scope, ...widerThan(scope)]) {
    const found = all.filter((one) => pointKey(one.scope) === pointKey(point));
    if (found.length > 0) return found;
  }
  return [];
}

function endOf(sides: Sides, { fidelity, edits, wholeFiles }: Compiled, cell: Cell, side: Seen): RoadEnd {
  const { instance, value } = side;
  if (instance === undefined || value.kind !== 'value') return { kind: 'left-alone' };
  const ours = <T extends Pick<FidelityEntry | Edit, 'setting' | 'item' | 'instance'>>(
    all: readonly T[],
  ): readonly T[] =>
    all.filter((one) => one.setting === cell.setting && one.item === cell.item && one.instance === instance.name);
  const [entry] = nearestScope(ours(fidelity), cell.scope);
  const able = canHold(sides, cell, side.which, side.which);
  if (able?.kind === 'cannot' && able.inability !== 'only-near') return { kind: 'cannot', why: able.why };
  if (entry?.fidelity.kind === 'cannot') return { kind: 'cannot', why: entry.fidelity.why };
  return {
    kind: 'written',
    keys: [
      ...nearestScope(ours(edits), cell.scope).map(keyOf),
      ...wholeFiles.filter((file) => file.instance === instance.name && isIn(file, cell)).map(wholeOf),
    ],
    near: entry?.fidelity.kind === 'approximated' ? entry.fidelity.how : undefined,
  };
}

function keyOf({ path, key, value, dialectPlace }: Edit): RoadKey {
  return { path, key, text: value === undefined ? undefined : plainText(value), dialect: dialectPlace };
}

function isIn({ decisions }: WholeFile, { setting, item }: Cell): boolean {
  return decisions.some((decision) => decision.setting === setting && decision.item === item);
}

function wholeOf({ path, dialectPlace }: WholeFile): RoadKey {
  return { path, key: undefined, text: undefined, dialect: dialectPlace };
}
