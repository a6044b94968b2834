import type { Lens } from '../../dialect/contract.ts';
import type { Candidate, Decision, Resolved, Selectors } from '../../model/resolved.ts';
import type { Value } from '../../model/value.ts';
import { isPosition } from '../../vocabulary/positions.ts';
import type { Position } from '../../vocabulary/positions.ts';
import { settingById, settings } from '../../vocabulary/registry.ts';
import type { RefitWeights } from '../../vocabulary/refit-terms.ts';
import type { Habit, HandsOn, HoldHabit, RefitProblem, Standing } from './problem.ts';
import { answering, onlyFor, selectorsThere, spotsOf, winnerAt } from './spots.ts';
import type { SpotOf } from './spots.ts';

export interface Sides {
  readonly from: Resolved;
  readonly to: Resolved;
  /** Of the target's frontends by name, with the first device's hold control where it has that. */
  readonly lens: (instance: string) => Lens | undefined;
  /** Actions, or `hold`, that stay where the first device has them. */
  readonly pins: ReadonlySet<string>;
  /** Actions that stay as the target has them. */
  readonly ownPins: ReadonlySet<string>;
  readonly weights: RefitWeights;
}

/** A line of the first device as the target could have it. */
export interface Line {
  readonly id: string;
  readonly setting: string;
  /** As the target's profile would write them. */
  readonly selectors: Selectors;
  /** `only for frontend withy`; empty for the whole device. */
  readonly only: string;
  /** On the first device. */
  readonly value: Value;
  readonly ifPresent: boolean;
  readonly spots: readonly number[];
}

/** A line that is not brought, and why. */
export interface Left {
  readonly line: Line;
  readonly why: string;
}

/** What is to be carried over, as hands know it and as the files say it. */
export interface Brought {
  readonly problem: RefitProblem;
  readonly spots: readonly SpotOf[];
  /** Of the habits and holds, by id. */
  readonly lines: ReadonlyMap<string, Line>;
  /** Carried as they are: what needs no control, and hotkeys that are taken away on purpose. */
  readonly plain: readonly Line[];
  readonly left: readonly Left[];
  /** Pins of the first device that nothing of it answers to. */
  readonly idlePins: readonly string[];
}

const bindStart = 'hotkeys.bind.';
const binds = settings.filter(({ type }) => type.kind === 'bind');
const pads = settings.filter(({ id }) => id.startsWith('pad.'));
const hold = 'hotkeys.hold';
const aboutSticks: readonly string[] = ['pad.dead-zone', 'pad.stick-as-dpad'];
const wayOut: readonly string[] = ['exit-game', 'open-menu'];

/** Reads both sides: every hotkey and pad setting of the first device, and what the target keeps of its own. */
export function bring(sides: Sides): Brought {
  const { from, to } = sides;
  const ids = [hold, ...binds.map(({ id }) => id), ...pads.map(({ id }) => id)];
  const spots = spotsOf(from, to, ids);
  const reader = new Reader(sides, spots);
  const left: Left[] = [];
  const plain: Line[] = [];
  const lines = new Map<string, Line>();
  const habits: Habit[] = [];
  const standing: Standing[] = [];
  for (const { id, destructive, frequent } of [...binds, ...pads]) {
    const action = id.replace(bindStart, '');
    const found = reader.lines(id);
    left.push(...found.left);
    for (const line of found.lines) {
      const press = pressOf(line);
      if (press === undefined) {
        const why = reader.whyNotPlain(line);
        if (why === undefined) plain.push(line);
        else left.push({ line, why });
        continue;
      }
      const say = reader.saying(line);
      if (say.kind === 'never') {
        left.push({ line, why: say.why });
        continue;
      }
      lines.set(line.id, line);
      const pinned = sides.pins.has(action);
      habits.push({
        id: line.id,
        action,
        press,
        spots: line.spots,
        wishes: reader.wishes(line),
        pinned,
        destructive: destructive === true,
        frequent: frequent === true,
        worth: pinned ? 100 : wayOut.includes(action) ? 3 : frequent === true ? 2 : 1,
        cannot: say.cannot,
      });
    }
    if (id.startsWith(bindStart))
      for (const own of reader.standing(id, new Set(found.lines.flatMap((line) => line.spots))))
        standing.push({ ...own, action, destructive: destructive === true, frequent: frequent === true });
  }
  const bound = new Set([
    ...habits.map(({ action }) => action),
    ...[...plain, ...left.map(({ line }) => line)].map(({ setting }) => setting.replace(bindStart, '')),
  ]);
  const holds = reader.holds();
  for (const { line } of holds) if (line !== undefined) lines.set(line.id, line);
  return {
    problem: {
      from: handsOn(from),
      to: handsOn(to),
      holds: holds.map(({ habit }) => habit),
      habits,
      standing,
      reserved: to.device.reserved.map(({ positions }) => positions),
      onRelease: new Set(
        spots.flatMap(({ instance }, k) => (instance.dialect.data.controls?.fires === 'release' ? [k] : [])),
      ),
      weights: sides.weights,
    },
    spots,
    lines,
    plain,
    left,
    idlePins: [...sides.pins].filter((pin) => (pin === 'hold' ? from.holds.size === 0 : !bound.has(pin))),
  };
}

function handsOn({ device }: Resolved): HandsOn {
  return {
    body: device.body,
    hands: device.hands,
    controls: new Map([...device.controls.controls].map(([position, { label }]) => [position, label])),
  };
}

/** What a line presses; undefined: it is no matter of controls. */
function pressOf({ value }: Line): Habit['press'] | undefined {
  if (value.kind === 'press') return value.press;
  return value.kind === 'control' ? { kind: 'pad', position: value.position } : undefined;
}

class Reader {
  readonly #sides: Sides;
  readonly #spots: readonly SpotOf[];
  readonly #names: ReturnType<typeof answering>;
  readonly #shared: ReadonlySet<string>;
  readonly #candidates = new Map<string, Candidate[]>();
  readonly #origins = new Map<string, Candidate>();

  constructor(sides: Sides, spots: readonly SpotOf[]) {
    this.#sides = sides;
    this.#spots = spots;
    this.#names = answering(sides.from);
    this.#shared = new Set(sides.from.layers.map(({ source }) => source.name));
    for (const candidate of sides.from.candidates) {
      const known = this.#candidates.get(candidate.setting);
      if (known === undefined) this.#candidates.set(candidate.setting, [candidate]);
      else known.push(candidate);
    }
  }

  /** The lines of the first device for one setting, with the spots at which they are to act. */
  lines(id: string): { readonly lines: readonly Line[]; readonly left: readonly Left[] } {
    const { to, ownPins } = this.#sides;
    const values = this.#values(id);
    const left: Left[] = [];
    const lines = [...values].map(([candidate, value]): Line => {
      const own = this.#spots.flatMap((spot, k) =>
        this.#asks(id, spot) && winnerAt(this.#candidates.get(id) ?? [], spot, this.#names) === candidate ? [k] : [],
      );
      return this.#line(candidate, value, own);
    });
    const taken: Line[] = [];
    for (const line of lines) {
      const candidate = this.#origins.get(line.id);
      const spots = line.spots.filter((k) => !this.#keepsOwn(id, k, candidate));
      const position =
        line.value.kind === 'press' && line.value.press.kind !== 'chord' ? line.value.press.position : undefined;
      const name = to.device.name;
      if (ownPins.has(id.replace(bindStart, '')))
        left.push({ line, why: `${name} has it pinned to what it has itself` });
      else if (line.selectors.frontend?.length === 0) left.push({ line, why: `${name} has no such frontend` });
      else if (line.spots.length === 0) left.push({ line, why: `no frontend of ${name} is of the kind that has it` });
      else if (spots.length === 0) left.push({ line, why: `${name} has another one of its own there` });
      else if (line.ifPresent && position !== undefined && !to.device.controls.controls.has(position))
        left.push({ line, why: `it is only for devices that have ${position}` });
      else taken.push({ ...line, spots });
    }
    return { lines: taken, left };
  }

  /** Every control that a line wishes for, those that the first device lacks too. */
  wishes({ id }: Line): readonly Position[] {
    const wish = this.#origins.get(id)?.wish;
    if (wish?.kind !== 'binds') return [];
    return wish.wishes.flatMap(({ press, missing }) =>
      press.kind === 'with-hold' || press.kind === 'alone' ? [press.position] : missing.filter(isPosition),
    );
  }

  /** Whether and where the target's frontends can say a line. */
  saying(
    line: Line,
  ):
    | { readonly kind: 'some'; readonly cannot: (position: Position) => string | undefined }
    | { readonly kind: 'never'; readonly why: string } {
    const { to, lens } = this.#sides;
    const first = new Map<string, SpotOf>();
    for (const k of line.spots) {
      const spot = this.#spots[k];
      if (spot !== undefined && !first.has(spot.instance.name)) first.set(spot.instance.name, spot);
    }
    const there = [...to.device.controls.controls.keys()];
    const able: ReadonlyMap<Position, string>[] = [];
    let reason = `no frontend of ${to.device.name} can say it`;
    for (const [instance, { point }] of first) {
      const refused = new Map<Position, string>();
      for (const position of there) {
        const other = there.find((one) => one !== position) ?? position;
        const spelled = lens(instance)?.spell(line.setting, withPosition(line.value, position, other), point);
        if (spelled === undefined) refused.set(position, `${instance} cannot say it`);
        else if (spelled.kind === 'cannot') refused.set(position, `${instance}: ${spelled.why}`);
      }
      if (refused.size < there.length) able.push(refused);
      else reason = [...refused.values()][0] ?? reason;
    }
    if (able.length === 0) return { kind: 'never', why: reason };
    return {
      kind: 'some',
      cannot: (position) => able.map((refused) => refused.get(position)).find((why) => why !== undefined),
    };
  }

  /** Why a value that needs no control of its own means nothing on the target. */
  whyNotPlain(line: Line): string | undefined {
    const { to, lens } = this.#sides;
    const sticks = [...to.device.controls.controls.keys()].some((position) => position.startsWith('stick-'));
    if (aboutSticks.includes(line.setting) && !sticks) return `${to.device.name} has no stick`;
    const reasons = line.spots.map((k) => {
      const spot = this.#spots[k];
      if (spot === undefined) return '';
      const spelled = lens(spot.instance.name)?.spell(line.setting, line.value, spot.point);
      return spelled?.kind === 'cannot' ? `${spot.instance.name}: ${spelled.why}` : undefined;
    });
    return reasons.includes(undefined) ? undefined : reasons[0];
  }

  /** What the target has bound of one action, at spots that no line of the first device speaks to. */
  standing(id: string, spoken: ReadonlySet<number>): readonly Pick<Standing, 'press' | 'spots'>[] {
    const found = new Map<string, { readonly press: Standing['press']; readonly spots: number[] }>();
    this.#spots.forEach(({ instance, point }, k) => {
      const value = this.#asks(id, { instance, point }) ? this.#sides.to.decide(instance, id, point)?.value : undefined;
      const said = value === undefined ? undefined : this.#sides.lens(instance.name)?.spell(id, value, point);
      // What the frontend cannot say is in nobody's way.
      if (said === undefined || (said.kind === 'cannot' && point.system === undefined && point.core === undefined))
        return;
      if (value?.kind !== 'press' || (spoken.has(k) && !this.#sides.ownPins.has(id.replace(bindStart, '')))) return;
      const key = JSON.stringify(value.press);
      const known = found.get(key);
      if (known === undefined) found.set(key, { press: value.press, spots: [k] });
      else known.spots.push(k);
    });
    return [...found.values()];
  }

  /** The hold control of each of the target's frontends: the first device's, or its own where that has none. */
  holds(): readonly { readonly habit: HoldHabit; readonly line: Line | undefined }[] {
    const { to, pins } = this.#sides;
    const values = this.#values(hold);
    const found = new Map<
      string,
      { readonly habit: HoldHabit & { readonly spots: number[] }; readonly line: Line | undefined }
    >();
    this.#spots.forEach(({ instance }, k) => {
      if (!instance.roles.includes('player')) return;
      const alone = instance.dialect.data.controls?.hold === 'none';
      const winner = alone
        ? undefined
        : winnerAt(this.#candidates.get(hold) ?? [], { instance, point: {} }, this.#names);
      const value = winner === undefined ? undefined : values.get(winner);
      const from = value?.kind === 'control' ? value.position : undefined;
      const now = alone ? undefined : to.holds.get(instance.name);
      const line = winner === undefined || value === undefined ? undefined : this.#line(winner, value, []);
      const id = `${line?.id ?? (alone ? 'no hold' : 'own hold')} ${now ?? ''}`;
      const known = found.get(id);
      if (known === undefined)
        found.set(id, {
          habit: { id, from, now, pinned: pins.has('hold'), spots: [k] },
          line: line === undefined ? undefined : { ...line, id },
        });
      else known.habit.spots.push(k);
    });
    return [...found.values()].map(({ habit, line }) => ({
      habit,
      line: line === undefined ? undefined : { ...line, spots: habit.spots },
    }));
  }

  /** What each line gives on the first device, where it wins anywhere. */
  #values(id: string): ReadonlyMap<Candidate, Value> {
    const { from } = this.#sides;
    const byOrigin = new Map<Decision['origin'], Value>();
    for (const instance of from.instances)
      for (const point of from.points(instance, id)) {
        const decision = from.decide(instance, id, point);
        if (decision !== undefined && !byOrigin.has(decision.origin)) byOrigin.set(decision.origin, decision.value);
      }
    const values = new Map<Candidate, Value>();
    for (const candidate of this.#candidates.get(id) ?? []) {
      const value = byOrigin.get(candidate.origin);
      if (value !== undefined) values.set(candidate, value);
    }
    return values;
  }

  #line(candidate: Candidate, value: Value, spots: readonly number[]): Line {
    const only = onlyFor(candidate.selectors);
    const id = `${candidate.setting.replace(bindStart, '')}${only === '' ? '' : `, ${only}`}`;
    this.#origins.set(id, candidate);
    const { wish } = candidate;
    return {
      id,
      setting: candidate.setting,
      selectors: selectorsThere(candidate.selectors, this.#sides.to, this.#names),
      only,
      value,
      ifPresent: wish.kind === 'binds' && wish.wishes.every(({ ifPresent }) => ifPresent),
      spots,
    };
  }

  #asks(id: string, { instance }: SpotOf): boolean {
    return settingById(id)?.roles.some((role) => instance.roles.includes(role)) === true;
  }

  /** Whether the target says something narrower of its own at a spot. */
  #keepsOwn(id: string, k: number, candidate: Candidate | undefined): boolean {
    const spot = this.#spots[k];
    const { to } = this.#sides;
    const origin = spot === undefined ? undefined : to.decide(spot.instance, id, spot.point)?.origin;
    if (origin === undefined || candidate === undefined || this.#shared.has(origin.document.source.name)) return false;
    const own = to.candidates.find((one) => one.origin === origin);
    // How far a stick must be moved is a matter of the stick, not of the hands.
    if (settingById(id)?.type.kind === 'quantity') return true;
    if (own === undefined) return false;
    const [a, b] = [own.rank, candidate.rank];
    return a[0] > b[0] || (a[0] === b[0] && a[1] > b[1]);
  }
}

function withPosition(value: Value, position: Position, other: Position): Value {
  if (value.kind === 'control') return { kind: 'control', position };
  if (value.kind !== 'press') return value;
  const { press } = value;
  return {
    ...value,
    press: press.kind === 'chord' ? { kind: 'chord', positions: [position, other] } : { ...press, position },
  };
}
