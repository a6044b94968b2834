import type { DeviceControls } from '../model/device.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';
import type { AdoptInput } from './adopt.ts';
import type { Adopted, Alternative, Found } from './adopted.ts';
import { askedOf } from './asked.ts';
import type { Asked } from './asked.ts';
import { placeKey } from './difference.ts';
import { judge } from './judge.ts';
import type { Judged, SideEffect } from './judge.ts';
import { sitesFor } from './layers.ts';
import type { Site } from './layers.ts';
import { spellYaml } from './spell-yaml.ts';
import { splitWanted } from './split-wanted.ts';
import type { Left } from './wanted-of.ts';
import type { Wanted } from './wanted.ts';
import { isHotkey, isWishList } from './wish-list.ts';
import { writeSites } from './write-site.ts';
import type { Rewritten, SiteChange } from './write-site.ts';
import type { World } from './world.ts';

interface Choice {
  readonly wanted: Wanted;
  readonly site: Site;
  readonly value: PlainYaml | undefined;
}

/** `plain`: one wish by itself, which is taken even where another hotkey has it, as the card does. */
interface Pinning {
  readonly kind: Site['kind'];
  readonly plain: boolean;
  readonly rounds: number;
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
    if (this.#withOthers(wanted)) return [];
    const parts = splitWanted(wanted);
    return parts.length > 1 ? parts.flatMap((part) => this.#alone(part)) : [wanted];
  }

  /**
   * What else a change disturbs is told as well, so that all stays as the card has it: a narrower place that said the
   * old value with the wider one, a hotkey whose better wish the change sets free, and the line that set it, where
   * nothing could say that line any more.
   */
  #withOthers(wanted: Wanted): boolean {
    if (wanted.to.kind !== 'value' || this.#input.at !== undefined) return false;
    const choices = this.#sites(wanted)
      .filter((site) => this.#shared(site).length === 0)
      .flatMap((site) => this.#spellings(wanted, site).map((value): Choice => ({ wanted, site, value })));
    for (const choice of choices) {
      if (this.#try([choice]) !== undefined) continue;
      const taken = this.#takenOut(choice);
      if (taken !== undefined && this.#takeAll(choice, [taken], 0)) return true;
      const lists = this.#wishLists(choice);
      if (lists.length > 0 && this.#takeAll(choice, lists, 4)) return true;
    }
    return choices.some((choice) => this.#takeAll(choice, [], 4));
  }

  #takeAll(choice: Choice, taken: readonly Choice[], rounds: number): boolean {
    for (const kind of ['set-there', 'new-block'] as const) {
      for (const plain of rounds === 0 ? [false] : [false, true]) {
        const found = this.#pinned(choice, taken, { kind, plain, rounds });
        if (found === undefined) continue;
        this.#take([choice, ...found.besides], found.trial);
        return true;
      }
    }
    return false;
  }

  /** The line that set it, to be taken out. */
  #takenOut({ wanted, site: instead }: Choice): Choice | undefined {
    const site = this.#sites(wanted).find(({ kind }) => kind === 'set-there');
    return site === undefined || instead.kind === 'set-there' || this.#shared(site).length > 0
      ? undefined
      : { wanted, site, value: undefined };
  }

  /** The other hotkeys that have several wishes, as they are: a chord that is asked for twice leaves them with none. */
  #wishLists({ wanted }: Choice): readonly Choice[] {
    if (!isHotkey(wanted)) return [];
    const hotkeys = this.#world.compiled.fidelity.filter(
      (entry) =>
        isHotkey(entry) &&
        entry.setting !== wanted.setting &&
        wanted.targets.some(({ instance }) => instance === entry.instance),
    );
    const how = { kind: 'set-there', plain: true, rounds: 0 } as const;
    const lists = hotkeys.filter((entry) =>
      this.#disturbed(wanted, [entry], this.#world, how)?.some(({ site }) => isWishList(site.written)),
    );
    return this.#disturbed(wanted, lists, this.#world, how) ?? [];
  }

  /** Says more and more of what is disturbed, until nothing is. */
  #pinned(
    choice: Choice,
    taken: readonly Choice[],
    how: Pinning,
  ): { readonly besides: readonly Choice[]; readonly trial: Trial } | undefined {
    let besides = taken;
    for (let round = 0; round <= how.rounds; round++) {
      const trial = this.#try([choice], besides);
      if (trial?.wins !== true) return undefined;
      if (trial.others.every(({ agrees }) => agrees)) return { besides, trial };
      const more =
        round === how.rounds
          ? undefined
          : this.#disturbed(
              choice.wanted,
              trial.others.filter(({ agrees }) => !agrees),
              trial.world,
              how,
            );
      if (more === undefined) return undefined;
      besides = [...besides, ...more];
    }
    return undefined;
  }

  /** What is to be said of all that is disturbed; undefined where the card has something that cannot be said. */
  #disturbed(
    wanted: Wanted,
    places: readonly Pick<SideEffect, 'setting' | 'item' | 'instance' | 'scope'>[],
    world: World,
    how: Pinning,
  ): readonly Choice[] | undefined {
    const choices = new Map<string, Choice>();
    for (const place of places) {
      const { setting, item, instance: name, scope } = place;
      const instance = world.compiled.resolved.instances.find((one) => one.name === name);
      const lens = world.lenses.get(name);
      if (instance === undefined || lens === undefined) return undefined;
      const decision = world.compiled.resolved.decide(instance, setting, scope, item);
      const read = lens.read(setting, scope, this.#input.card.look, decision?.value, item);
      const onCard =
        read.kind === 'value'
          ? read.value
          : read.kind === 'absent' && wanted.to.kind === 'value' && setting === wanted.setting && item === wanted.item
            ? wanted.to.value
            : undefined;
      if (onCard === undefined) return undefined;
      const to = { kind: 'value', value: onCard } as const;
      const target = {
        setting,
        ...(item === undefined ? {} : { item }),
        instance: name,
        scope,
        decision,
        owned: false,
        onCard: to,
      };
      const one: Wanted = { setting, ...(item === undefined ? {} : { item }), to, targets: [target], rawIds: [] };
      const sites = this.#sites(one).filter((site) => this.#shared(site).length === 0);
      const site = sites.find(({ kind }) => kind === how.kind) ?? sites.find(({ kind }) => kind === 'new-block');
      const value = site === undefined ? undefined : this.#spellings(one, site).at(how.plain ? -1 : 0);
      if (site === undefined || value === undefined) return undefined;
      const key = JSON.stringify([site.document.source.name, site.path, site.selectors, value]);
      const targets = [...(choices.get(key)?.wanted.targets ?? []), target];
      choices.set(key, { wanted: { ...one, targets }, site, value });
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
        alternatives: this.#input.alternatives && !isTakenOut(wanted, value) ? this.#alternatives(wanted, site) : [],
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

/** Whether a line is taken out because the value stands elsewhere. */
function isTakenOut(wanted: Wanted, value: PlainYaml | undefined): boolean {
  return wanted.to.kind === 'value' && value === undefined;
}
