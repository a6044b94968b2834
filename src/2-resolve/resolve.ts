import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { CatalogDocument, DialectDocument, LayerDocument } from '../model/document.ts';
import type {
  Account,
  Allowance,
  Candidate,
  Decision,
  Device,
  Instance,
  Rejected,
  Resolved,
  ScopePoint,
} from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import { settings } from '../vocabulary/registry.ts';
import { assignHotkeys } from './assign-hotkeys.ts';
import type { Assignment } from './assign-hotkeys.ts';
import { chooseCore } from './choose-core.ts';
import type { Capture } from '../controls/capture/capture.ts';
import type { Facts } from './merge-facts.ts';
import { compareRank, matches, reachesInstance, unreached } from './rank.ts';
import { controlMissing } from './understand-control.ts';
import { readCandidates } from './read-candidates.ts';
import { readDevice } from './read-device.ts';
import { instanceEntries, readInstances } from './read-instances.ts';

export interface ResolveInput {
  /** Lowest first, the profile last. */
  readonly layers: readonly LayerDocument[];
  readonly facts: Facts;
  /** By instance name, `os` included. */
  readonly dialects: ReadonlyMap<string, DialectDocument>;
  readonly catalog: CatalogDocument | undefined;
  /** What the capture file that the device names says of its controls. */
  readonly capture?: Capture | undefined;
}

const hotkeyOrder = settings.filter((setting) => setting.type.kind === 'bind').map((setting) => setting.id);
const isHotkey: ReadonlySet<string> = new Set(hotkeyOrder);

/** One profile with every layer applied: for each instance, setting and scope the value, its origin and what lost. */
export function resolve(input: ResolveInput): Outcome<Resolved> {
  const { layers, facts, catalog } = input;
  const profile = layers.at(-1);
  if (profile === undefined) throw new Error('A profile without layers. This is a bug in thumbwright.');
  const device = readDevice(facts, profile.data.profile ?? 'device', input.capture);
  const instances = readInstances(facts, device.value, input.dialects);
  const collected = readCandidates(layers, device.value.controls);
  const findings: Finding[] = [...device.findings, ...instances.findings, ...collected.findings];
  const decider = new Decider(
    device.value,
    instances.value,
    collected.candidates,
    catalog,
    facts.catalog !== undefined,
  );
  decider.decideAll();

  const chosenCores = new Map<string, Decision>();
  for (const system of decider.systemsWithCores()) {
    const decision = decider.deviceCore({ system });
    if (decision !== undefined) chosenCores.set(system, decision);
  }
  findings.push(...decider.findings);
  return {
    value: {
      profile,
      layers,
      device: device.value,
      frontends: instanceEntries(facts).map((entry) => entry.name),
      instances: instances.value,
      catalog,
      candidates: collected.candidates,
      holds: decider.holds,
      extra: collected.extra,
      allow: readAllowances(layers),
      chosenCores,
      decide: (instance, setting, point, item) => decider.decide(instance, setting, point, item),
      account: (instance, setting, point, item) => decider.account(instance, setting, point, item),
      points: (instance, setting, item) => decider.points(instance, setting, item),
      items: (instance, setting) => decider.items(instance, setting),
    },
    findings,
  };
}

function readAllowances(layers: readonly LayerDocument[]): readonly Allowance[] {
  return layers.flatMap((layer) =>
    (layer.data.allow ?? []).map((entry, index) => ({
      finding: entry.finding,
      reach: entry.for === undefined ? undefined : typeof entry.for === 'string' ? [entry.for] : entry.for,
      because: entry.because,
      place: layer.place(['allow', index]),
    })),
  );
}

/** A decision, or none, with the wishes passed over on the way. */
type Settled = Pick<Account, 'decision' | 'rejected'>;

const leftAlone: Settled = { decision: undefined, rejected: [] };

function settledAs(decision: Decision): Settled {
  return { decision, rejected: decision.rejected };
}

class Decider {
  readonly findings: Finding[] = [];
  readonly holds = new Map<string, Position>();
  private readonly bySetting = new Map<string, Candidate[]>();
  private readonly assignments = new Map<string, ReadonlyMap<string, Assignment>>();
  private readonly told = new Set<string>();
  private readonly knownPoints = new Map<string, readonly ScopePoint[]>();
  private readonly settled = new Map<string, Settled>();
  private readonly device: Device;
  private readonly instances: readonly Instance[];
  private readonly catalog: CatalogDocument | undefined;
  /** Whether a catalog is named, be it at hand or not. */
  private readonly named: boolean;

  constructor(
    device: Device,
    instances: readonly Instance[],
    candidates: readonly Candidate[],
    catalog: CatalogDocument | undefined,
    named: boolean,
  ) {
    this.named = named;
    this.device = device;
    this.instances = instances;
    this.catalog = catalog;
    for (const candidate of candidates) {
      const known = this.bySetting.get(candidate.setting);
      if (known === undefined) this.bySetting.set(candidate.setting, [candidate]);
      else known.push(candidate);
    }
    // Best first; the sort is stable, and equal ranks (one layer, one block) keep their file order.
    for (const list of this.bySetting.values()) list.sort((a, b) => compareRank(b, a));
  }

  /** Every question once, so that every finding is made whatever is asked later. */
  decideAll(): void {
    for (const instance of this.instances) {
      const hold = this.decide(instance, 'hotkeys.hold', {});
      if (hold?.value.kind === 'control') this.holds.set(instance.name, hold.value.position);
    }
    for (const instance of this.instances) {
      for (const setting of settings) {
        if (!this.bySetting.has(setting.id) || !setting.roles.some((role) => instance.roles.includes(role))) continue;
        for (const item of this.items(instance, setting.id)) {
          for (const point of this.points(instance, setting.id, item)) this.decide(instance, setting.id, point, item);
        }
      }
    }
  }

  items(instance: Instance, setting: string): readonly (string | undefined)[] {
    const reaching = (this.bySetting.get(setting) ?? []).filter((candidate) =>
      reachesInstance(candidate, instance, this.catalog?.data),
    );
    return [...new Set(reaching.map((candidate) => candidate.item))];
  }

  points(instance: Instance, setting: string, item?: string): readonly ScopePoint[] {
    // All hotkeys are told apart at the same points, since a wish of one may be taken by another.
    const key = `${instance.name}\n${isHotkey.has(setting) ? '' : setting}\n${item ?? ''}`;
    let known = this.knownPoints.get(key);
    if (known === undefined) this.knownPoints.set(key, (known = this.findPoints(instance, setting, item)));
    return known;
  }

  private findPoints(instance: Instance, setting: string, item: string | undefined): readonly ScopePoint[] {
    const ids = isHotkey.has(setting) ? hotkeyOrder : [setting];
    const cores = new Set<string>();
    const systems = new Set<string>();
    const games = new Map<string, Set<string>>();
    for (const id of ids) {
      for (const candidate of this.bySetting.get(id) ?? []) {
        if (candidate.item !== item || !reachesInstance(candidate, instance, this.catalog?.data)) continue;
        for (const core of [...(candidate.selectors.core ?? []), candidate.implied.core])
          if (core !== undefined) cores.add(core);
        for (const system of [...(candidate.selectors.system ?? []), candidate.implied.system]) {
          if (system === undefined) continue;
          systems.add(system);
          for (const game of candidate.selectors.game ?? []) {
            const known = games.get(system);
            if (known === undefined) games.set(system, new Set([game]));
            else known.add(game);
          }
        }
      }
    }
    const points: ScopePoint[] = [];
    for (const system of [undefined, ...systems]) {
      for (const core of [undefined, ...cores]) {
        if (system !== undefined && core !== undefined && !this.runs(core, system)) continue;
        for (const game of [undefined, ...(system === undefined ? [] : (games.get(system) ?? []))]) {
          points.push({
            ...(core === undefined ? {} : { core }),
            ...(system === undefined ? {} : { system }),
            ...(game === undefined ? {} : { game }),
          });
        }
      }
    }
    return points;
  }

  /** Whether a core may run a system at all; a core that the catalog does not know may run any. */
  private runs(core: string, system: string): boolean {
    const cores = this.catalog?.data.cores ?? {};
    return !Object.hasOwn(cores, core) || (cores[core]?.systems.includes(system) ?? true);
  }

  systemsWithCores(): readonly string[] {
    const systems = (this.bySetting.get('cores.choice') ?? []).map((candidate) => candidate.implied.system);
    return [...new Set(systems)].filter((system) => system !== undefined);
  }

  decide(instance: Instance, setting: string, point: ScopePoint, item?: string): Decision | undefined {
    return this.bySetting.has(setting) ? this.settle(instance, setting, point, item).decision : undefined;
  }

  account(instance: Instance, setting: string, point: ScopePoint, item?: string): Account {
    const lines = (this.bySetting.get(setting) ?? [])
      .filter((candidate) => candidate.item === item)
      .map((candidate) => ({ candidate, unreached: unreached(candidate, instance, point, this.catalog?.data) }));
    return { lines, ...this.settle(instance, setting, point, item) };
  }

  private settle(instance: Instance, setting: string, point: ScopePoint, item: string | undefined): Settled {
    const key = [instance.name, setting, item, point.core, point.system, point.game].join('\n');
    let known = this.settled.get(key);
    if (known === undefined) this.settled.set(key, (known = this.findSettled(instance, setting, point, item)));
    return known;
  }

  private findSettled(instance: Instance, setting: string, point: ScopePoint, item: string | undefined): Settled {
    const matching = (this.bySetting.get(setting) ?? []).filter(
      (candidate) => candidate.item === item && matches(candidate, instance, point, this.catalog?.data),
    );
    const [winner, ...losers] = matching;
    if (winner === undefined) return leftAlone;
    const common = { setting, ...(item === undefined ? {} : { item }), origin: winner.origin, losers };
    switch (winner.wish.kind) {
      case 'clear':
        return leftAlone;
      case 'value':
        return settledAs({ ...common, value: winner.wish.value, rejected: [] });
      case 'controls': {
        const [first] = winner.wish.wishes;
        if (first === undefined) {
          const has = [...this.device.controls.controls.keys()];
          const { detail, wayOut } = controlMissing(setting, winner.wish.missing, has);
          this.tell(winner, 'missing', 'control-missing', detail, wayOut);
          return leftAlone;
        }
        return settledAs({
          ...common,
          value: first.kind === 'none' ? { kind: 'none' } : { kind: 'control', position: first.position },
          rejected: [],
        });
      }
      case 'binds':
        return this.decideBind(instance, winner, losers, point);
      case 'cores':
        return instance.roles.includes('player')
          ? this.decideCore(winner, losers, point, [instance], instance)
          : this.decideCore(winner, losers, point, this.instances, undefined);
    }
  }

  deviceCore(point: ScopePoint): Decision | undefined {
    const matching = (this.bySetting.get('cores.choice') ?? []).filter(
      (candidate) =>
        candidate.selectors.frontend === undefined &&
        candidate.selectors.game === undefined &&
        candidate.implied.system === point.system,
    );
    const [winner, ...losers] = matching;
    return winner === undefined
      ? undefined
      : this.decideCore(winner, losers, point, this.instances, undefined).decision;
  }

  private decideCore(
    winner: Candidate,
    losers: readonly Candidate[],
    point: ScopePoint,
    among: readonly Instance[],
    own: Instance | undefined,
  ): Settled {
    const { system } = point;
    if (winner.wish.kind !== 'cores' || system === undefined) return leftAlone;
    if (this.catalog === undefined) {
      if (this.named) return leftAlone;
      this.tell(
        winner,
        '',
        'catalog-wanted',
        'Which core runs which system is in a catalog, and the profile names none.',
        'Add catalog: NAME@RANGE to the profile or its house.',
      );
      return leftAlone;
    }
    // That the catalog lacks the system is told by itself.
    if (!Object.hasOwn(this.catalog.data.systems, system)) return leftAlone;
    const choice = chooseCore(winner.wish.wishes, system, among, this.device, this.catalog);
    if (choice.value === undefined) {
      // One copy that has no wanted core is left alone; a system that no copy can run is an error.
      if (own === undefined) this.tellNoCore(winner, system, choice.rejected);
      else if (chooseCore(winner.wish.wishes, system, this.instances, this.device, this.catalog).value === undefined)
        this.tellNoCore(winner, system, choice.rejected);
      return { decision: undefined, rejected: choice.rejected };
    }
    const { value, rejected } = choice;
    return settledAs({ setting: 'cores.choice', value, origin: winner.origin, losers, rejected });
  }

  private tellNoCore(winner: Candidate, system: string, rejected: readonly Rejected[]): void {
    // A core that nothing knows is misspelt, and told by itself.
    const known = (core: string): boolean =>
      Object.hasOwn(this.catalog?.data.cores ?? {}, core) ||
      this.instances.some((instance) => instance.cores?.has(core) ?? false);
    if (winner.wish.kind === 'cores' && !winner.wish.wishes.every((wish) => known(wish.core))) return;
    const reasons = rejected.map(({ what, why }) => `${what}: ${why}`).join('; ');
    this.tell(
      winner,
      system,
      'no-core-runs',
      `No core of the list can run ${system} on this device (${reasons}).`,
      'Add a core that is installed, of the right bits and fast enough, or take the system out of cores.choice.',
    );
  }

  private decideBind(instance: Instance, winner: Candidate, losers: readonly Candidate[], point: ScopePoint): Settled {
    const assignment = this.assignment(instance, point).get(winner.setting);
    if (assignment === undefined) return leftAlone;
    if (assignment.kind === 'absent') return { decision: undefined, rejected: assignment.rejected };
    if (assignment.kind === 'assigned')
      return settledAs({ setting: winner.setting, origin: winner.origin, losers, ...assignment.assigned });
    if (assignment.kind === 'missing') {
      this.tell(
        winner,
        'missing',
        'control-missing',
        `${winner.setting} asks for ${assignment.missing.join(' or ')}, which this device does not have.`,
        'Write a control that the device has, add another wish, or write { control: …, if-present: true }.',
      );
      return leftAlone;
    }
    const reasons = assignment.rejected.map(({ what, why }) => `${what}: ${why}`).join('; ');
    this.tell(
      winner,
      'taken',
      'no-free-wish',
      `None of the wishes of ${winner.setting} can be had (${reasons}).`,
      'Add another wish to the list, or move the hotkey that has the control.',
    );
    return { decision: undefined, rejected: assignment.rejected };
  }

  private assignment(instance: Instance, point: ScopePoint): ReadonlyMap<string, Assignment> {
    const key = JSON.stringify([instance.name, point.core, point.system, point.game]);
    const known = this.assignments.get(key);
    if (known !== undefined) return known;
    const winners = hotkeyOrder.flatMap((id) => {
      const winner = (this.bySetting.get(id) ?? []).find((candidate) =>
        matches(candidate, instance, point, this.catalog?.data),
      );
      return winner === undefined || winner.wish.kind === 'clear' ? [] : [winner];
    });
    const assigned = assignHotkeys(winners, this.holds.get(instance.name), this.device.reserved);
    this.assignments.set(key, assigned);
    return assigned;
  }

  /** One finding for one place, however many instances and scopes it reaches. */
  private tell(
    candidate: Candidate,
    about: string,
    code: 'control-missing' | 'no-free-wish' | 'no-core-runs' | 'catalog-wanted',
    detail: string,
    wayOut: string,
  ): void {
    const { place } = candidate.origin;
    const key = `${code} ${about} ${place.source.name} ${place.span.start}`;
    if (this.told.has(key)) return;
    this.told.add(key);
    this.findings.push(makeFinding(code, { place, setting: candidate.setting, detail, wayOut }));
  }
}
