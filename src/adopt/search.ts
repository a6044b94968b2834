import type { DeviceControls } from '../model/device.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';
import type { AdoptInput } from './adopt.ts';
import { askedOf } from './asked.ts';
import type { Asked } from './asked.ts';
import { placeKey } from './difference.ts';
import { judge } from './judge.ts';
import type { Judged, SideEffect } from './judge.ts';
import { sitesFor } from './layers.ts';
import type { Site } from './layers.ts';
import { spellYaml } from './spell-yaml.ts';
import type { Left } from './wanted-of.ts';
import type { Wanted } from './wanted.ts';
import { writeSites } from './write-site.ts';
import type { Rewritten, SiteChange } from './write-site.ts';
import type { World } from './world.ts';

/** One thing carried into the profile. */
export interface Adopted {
  readonly wanted: Wanted;
  readonly site: Site;
  /** Undefined: taken out. */
  readonly value: PlainYaml | undefined;
  /** What else that changes. */
  readonly others: readonly SideEffect[];
  /** Other profiles that take the value from the same line. */
  readonly shared: readonly string[];
  /** Other layers at which it would win. */
  readonly alternatives: readonly Alternative[];
}

export interface Alternative {
  readonly site: Site;
  readonly value: PlainYaml | undefined;
  readonly others: readonly SideEffect[];
  readonly shared: readonly string[];
}

export interface Found {
  readonly adopted: readonly Adopted[];
  readonly left: readonly Left[];
  readonly texts: ReadonlyMap<string, Rewritten>;
  readonly world: World;
}

interface Choice {
  readonly wanted: Wanted;
  readonly site: Site;
  readonly value: PlainYaml | undefined;
}

interface Trial extends Judged {
  readonly texts: ReadonlyMap<string, Rewritten>;
  readonly world: World;
  readonly asked: ReadonlyMap<string, Asked>;
}

/**
 * Finds for each thing the first layer at which it wins and changes nothing that the card does not have already. All
 * are tried together first, then in halves, so that what does not disturb others takes few trials.
 */
export class Search {
  readonly #input: AdoptInput;
  readonly #secrets: ReadonlyMap<string, string>;
  #world: World;
  #asked: ReadonlyMap<string, Asked>;
  #texts: ReadonlyMap<string, Rewritten> = new Map();
  #adopted: Adopted[] = [];

  constructor(input: AdoptInput, secrets: ReadonlyMap<string, string>) {
    this.#input = input;
    this.#secrets = secrets;
    // With the secrets that were found known, what asks for them is as the card has it.
    this.#world = (secrets.size === 0 ? undefined : input.tryTexts(new Map(), secrets)) ?? input.world;
    this.#asked = askedOf(this.#world, input.card);
  }

  run(wanted: readonly Wanted[]): Found {
    let open = wanted;
    for (;;) {
      const before = open.length;
      open = this.#together(open);
      // What could not win may do so now that others have moved.
      if (open.length === 0 || open.length === before) break;
    }
    const left = open.flatMap((one) =>
      one.targets.map((difference): Left => ({
        difference,
        why:
          this.#input.at === undefined
            ? 'no layer can say it without changing something that the card has otherwise'
            : `it would not win at ${this.#input.at}, or there is no such layer`,
        wayOut:
          this.#input.at === undefined
            ? 'Choose a layer with --at, or write it into the profile by hand.'
            : 'Choose another layer, or leave --at out.',
      })),
    );
    return { adopted: this.#adopted, left, texts: this.#texts, world: this.#world };
  }

  /** Adopts all at once where nothing disturbs; else by halves. What remains is handed back. */
  #together(wanted: readonly Wanted[]): readonly Wanted[] {
    const [first] = wanted;
    if (first === undefined) return [];
    if (wanted.length === 1) return this.#alone(first);
    const choices = wanted.map((one) => this.#likely(one));
    const sure = choices.filter((choice) => choice !== undefined);
    if (sure.length === choices.length) {
      const trial = this.#try(sure);
      if (trial !== undefined && trial.wins && trial.others.every(({ agrees }) => agrees)) {
        this.#take(sure, trial);
        return [];
      }
    }
    const middle = Math.ceil(wanted.length / 2);
    return [...this.#together(wanted.slice(0, middle)), ...this.#together(wanted.slice(middle))];
  }

  #alone(wanted: Wanted): readonly Wanted[] {
    for (const site of this.#sites(wanted)) {
      if (this.#input.at === undefined && this.#shared(site).length > 0) continue;
      for (const value of this.#spellings(wanted, site)) {
        const choice = { wanted, site, value };
        const trial = this.#try([choice]);
        if (trial?.wins !== true) continue;
        if (this.#input.at === undefined && !trial.others.every(({ agrees }) => agrees)) continue;
        this.#take([choice], trial);
        return [];
      }
    }
    if (this.#withNarrower(wanted)) return [];
    const parts = split(wanted);
    return parts.length > 1 ? parts.flatMap((part) => this.#alone(part)) : [wanted];
  }

  /**
   * A narrower place that says the old value by itself, and that the card has no key for, says the new one with the
   * wider one: so it is told as well, at the line that set it or in a block of its own.
   */
  #withNarrower(wanted: Wanted): boolean {
    if (wanted.to.kind !== 'value' || this.#input.at !== undefined) return false;
    for (const site of this.#sites(wanted)) {
      if (this.#shared(site).length > 0) continue;
      for (const value of this.#spellings(wanted, site)) {
        const choice = { wanted, site, value };
        const trial = this.#try([choice]);
        if (trial?.wins !== true) continue;
        for (const kind of ['set-there', 'new-block'] as const) {
          const narrower = this.#narrower(wanted, trial, kind);
          const all = narrower === undefined ? undefined : this.#try([choice], narrower);
          if (narrower === undefined || all?.wins !== true || !all.others.every(({ agrees }) => agrees)) continue;
          this.#take([choice, ...narrower], all);
          return true;
        }
      }
    }
    return false;
  }

  /** Undefined where something else is in the way. */
  #narrower(wanted: Wanted, { others, world }: Trial, at: Site['kind']): readonly Choice[] | undefined {
    const choices = new Map<string, Choice>();
    for (const other of others) {
      if (other.agrees) continue;
      const instance = world.compiled.resolved.instances.find(({ name }) => name === other.instance);
      const lens = world.lenses.get(other.instance);
      const of = wanted.targets.find((target) => target.instance === other.instance);
      if (instance === undefined || lens === undefined || of === undefined) return undefined;
      if (other.setting !== wanted.setting || other.item !== wanted.item) return undefined;
      const decision = world.compiled.resolved.decide(instance, other.setting, other.scope, other.item);
      const read = lens.read(other.setting, other.scope, this.#input.card.look, decision?.value, other.item);
      if (decision === undefined || read.kind !== 'absent') return undefined;
      const target = { ...of, scope: other.scope, decision };
      const one: Wanted = { ...wanted, targets: [target] };
      const site = this.#sites(one).find(({ kind }) => kind === at);
      const [value] = site === undefined ? [] : this.#spellings(one, site);
      if (site === undefined || value === undefined || this.#shared(site).length > 0) return undefined;
      choices.set(JSON.stringify([site.document.source.name, site.path, site.selectors]), { wanted: one, site, value });
    }
    return choices.size === 0 ? undefined : [...choices.values()];
  }

  /** The first site that may do by what is known without a trial. */
  #likely(wanted: Wanted): Choice | undefined {
    const site = this.#sites(wanted).find(
      (one) => this.#input.at !== undefined || (this.#shared(one).length === 0 && this.#coversAll(wanted, one)),
    );
    const [value] = site === undefined ? [] : this.#spellings(wanted, site);
    return site === undefined || (value === undefined && wanted.to.kind === 'value')
      ? undefined
      : { wanted, site, value };
  }

  /** Whether all that a site reaches for the setting is among what is wanted. */
  #coversAll(wanted: Wanted, site: Site): boolean {
    const targets = new Set(wanted.targets.map(placeKey));
    const { fidelity, resolved } = this.#world.compiled;
    if (site.kind === 'set-there') {
      const origin = wanted.targets[0]?.decision?.origin;
      return fidelity.every(
        (entry) =>
          entry.fidelity.kind === 'cannot' ||
          entry.decision.origin.place.span.start !== origin?.place.span.start ||
          entry.decision.origin.place.source.name !== origin.place.source.name ||
          targets.has(placeKey(entry)),
      );
    }
    if (site.kind !== 'top') return new Set(wanted.targets.map(({ scope }) => JSON.stringify(scope))).size === 1;
    const { setting } = wanted;
    const roles = settingById(setting)?.roles ?? [];
    return resolved.instances.every(
      (instance) =>
        !roles.some((role) => instance.roles.includes(role)) ||
        this.#world.lenses.get(instance.name)?.settings().includes(setting) !== true ||
        wanted.targets.some((target) => target.instance === instance.name),
    );
  }

  #sites(wanted: Wanted): readonly Site[] {
    const { at, writable } = this.#input;
    const sites = sitesFor(wanted, this.#world.layers, this.#world.compiled.resolved, writable);
    const owned = sites.filter((site) => at !== undefined || site.kind !== 'top' || this.#isProfile(site));
    if (at === undefined) return owned;
    return sites.filter(({ layer, document }) => layer === at || layer.startsWith(at) || document.source.name === at);
  }

  #isProfile(site: Site): boolean {
    return site.document.source.name === this.#world.layers.at(-1)?.source.name;
  }

  #shared(site: Site): readonly string[] {
    return site.kind === 'new-block' || this.#isProfile(site) ? [] : this.#input.sharedWith(site.document, site.path);
  }

  #spellings(wanted: Wanted, site: Site): readonly (PlainYaml | undefined)[] {
    if (wanted.to.kind === 'value') {
      const setting = settingById(wanted.setting);
      return setting === undefined
        ? []
        : spellYaml(setting, wanted.to.value, { written: site.written, controls: this.#controls() });
    }
    const losers = wanted.targets.some(({ decision }) => (decision?.losers.length ?? 0) > 0);
    return site.kind === 'set-there' && !losers ? [undefined] : [null];
  }

  #controls(): DeviceControls {
    return this.#world.compiled.resolved.device.controls;
  }

  /** `besides`: written too, and not asked about. */
  #try(choices: readonly Choice[], besides: readonly Choice[] = []): Trial | undefined {
    const profile = this.#world.layers.at(-1);
    if (profile === undefined) return undefined;
    const changes = [...choices, ...besides].map(({ wanted, site, value }): SiteChange => {
      const { to } = wanted;
      const raw =
        to.kind !== 'raw'
          ? []
          : wanted.targets.flatMap(({ instance }) =>
              to.keys.map(({ file, key, text }) => [instance, file, key, text] as const),
            );
      return { site, value, raw };
    });
    const written = writeSites(changes, profile);
    if (written.findings.length > 0) return undefined;
    const texts = new Map(this.#texts);
    for (const [name, { source, text }] of written.value)
      texts.set(name, { source: this.#texts.get(name)?.source ?? source, text });
    const world = this.#input.tryTexts(new Map([...texts].map(([name, { text }]) => [name, text])), this.#secrets);
    if (world === undefined || world.errors > this.#input.world.errors) return undefined;
    const asked = askedOf(world, this.#input.card);
    const judged = judge(
      this.#asked,
      asked,
      world,
      this.#input.card,
      choices.map(({ wanted }) => wanted),
    );
    return { ...judged, texts, world, asked };
  }

  #take(choices: readonly Choice[], trial: Trial): void {
    for (const { wanted, site, value } of choices) {
      const about = trial.others.filter(({ setting }) => choices.length === 1 || setting === wanted.setting);
      this.#adopted.push({
        wanted,
        site,
        value,
        others: about,
        shared: this.#shared(site),
        alternatives: this.#input.alternatives ? this.#alternatives(wanted, site) : [],
      });
    }
    this.#texts = trial.texts;
    this.#world = trial.world;
    this.#asked = trial.asked;
  }

  /** The other layers at which it would win, each tried by itself. */
  #alternatives(wanted: Wanted, chosen: Site): readonly Alternative[] {
    const sites = sitesFor(wanted, this.#world.layers, this.#world.compiled.resolved, this.#input.writable);
    return sites.flatMap((site): Alternative[] => {
      if (site.layer === chosen.layer) return [];
      for (const value of this.#spellings(wanted, site)) {
        const trial = this.#try([{ wanted, site, value }]);
        if (trial?.wins === true) return [{ site, value, others: trial.others, shared: this.#shared(site) }];
      }
      return [];
    });
  }
}

/** By scope, then by instance. */
function split(wanted: Wanted): readonly Wanted[] {
  const by = (key: (target: Wanted['targets'][number]) => string): readonly Wanted[] => {
    const groups = new Map<string, Wanted['targets'][number][]>();
    for (const target of wanted.targets) {
      const known = groups.get(key(target));
      if (known === undefined) groups.set(key(target), [target]);
      else known.push(target);
    }
    return [...groups.values()].map((targets) => ({ ...wanted, targets }));
  };
  const scopes = by(({ scope }) => JSON.stringify(scope));
  return scopes.length > 1 ? scopes : by(({ instance }) => instance);
}
