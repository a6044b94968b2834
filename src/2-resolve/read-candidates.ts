import type { Finding } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { DeviceControls } from '../model/device.ts';
import type { LayerDocument, Path } from '../model/document.ts';
import type { Candidate, ExtraKey, ScopePoint, Selectors } from '../model/resolved.ts';
import { settings } from '../vocabulary/registry.ts';
import { groups, settingAt } from '../vocabulary/sections.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { plainText } from './plain-text.ts';
import { selectorRank } from './rank.ts';
import { understand } from './understand.ts';

/** Every value that the layers give, lowest layer first, and the raw keys. */
export interface Collected {
  readonly candidates: readonly Candidate[];
  readonly extra: readonly ExtraKey[];
  readonly findings: readonly Finding[];
}

type Members = Readonly<Record<string, unknown>>;

function isMapping(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function layerName(document: LayerDocument): string {
  const { profile, house } = document.data;
  return profile === undefined ? `house ${house ?? document.source.name}` : `profile ${profile}`;
}

function asList(value: string | readonly string[] | undefined): readonly string[] | undefined {
  return value === undefined ? undefined : typeof value === 'string' ? [value] : value;
}

/** `system burdock`, `frontend withy and core thrush`. */
function selectorText(selectors: Selectors): string {
  return (['frontend', 'core', 'system', 'game'] as const)
    .flatMap((name) => {
      const wanted = selectors[name];
      return wanted === undefined ? [] : [`${name} ${wanted.join(' or ')}`];
    })
    .join(' and ');
}

/** Layers lowest first. */
export function readCandidates(layers: readonly LayerDocument[], controls: DeviceControls): Collected {
  const candidates: Candidate[] = [];
  const extra: ExtraKey[] = [];
  const findings: Finding[] = [];

  const readSections = (
    document: LayerDocument,
    layer: number,
    data: Members,
    prefix: Path,
    selectors: Selectors,
  ): void => {
    const [narrowest, count] = selectorRank(selectors);
    const suffix = count === 0 ? '' : `, only for ${selectorText(selectors)}`;
    let order = prefix.length === 0 ? 0 : Number(prefix[1]) + 1;

    const addOne = (
      setting: SettingDefinition,
      value: unknown,
      path: Path,
      implied: ScopePoint,
      item?: string,
    ): void => {
      const { value: wish, findings: found } = understand(setting, { value, document, path, controls });
      findings.push(...found);
      if (wish === undefined) return;
      candidates.push({
        setting: setting.id,
        ...(item === undefined ? {} : { item }),
        origin: { document, path, place: document.place(path), layer: layerName(document) + suffix },
        selectors,
        implied,
        rank: [narrowest, count, layer, order],
        wish,
      });
    };

    const addSetting = (setting: SettingDefinition, value: unknown, path: Path): void => {
      if (setting.type.kind === 'cores' && isMapping(value)) {
        for (const [system, wanted] of Object.entries(value)) addOne(setting, wanted, [...path, system], { system });
      } else if (setting.type.kind === 'options' && isMapping(value)) {
        for (const [core, options] of Object.entries(value)) {
          if (!isMapping(options)) continue;
          for (const [option, text] of Object.entries(options))
            addOne(setting, text, [...path, core, option], { core }, option);
        }
      } else if (setting.type.kind === 'lists' && isMapping(value)) {
        for (const [list, games] of Object.entries(value)) addOne(setting, games, [...path, list], {}, list);
      } else addOne(setting, value, path, {});
    };

    const walk = (value: unknown, names: readonly string[]): void => {
      const setting = settingAt(names);
      const path = [...prefix, ...names];
      if (setting !== undefined) {
        addSetting(setting, value, path);
        return;
      }
      if (value === null) {
        // A whole mapping cleared: so is everything that lower layers set below it.
        const stem = `${names.join('.')}.`;
        for (const below of settings) if (below.id.startsWith(stem)) addOne(below, null, path, {});
        return;
      }
      if (isMapping(value)) for (const [name, member] of Object.entries(value)) walk(member, [...names, name]);
    };

    for (const group of groups) {
      order = prefix.length === 0 ? 0 : order;
      if (Object.hasOwn(data, group)) walk(data[group], [group]);
    }
    readExtra(document, data, prefix, layerName(document) + suffix, extra);
  };

  layers.forEach((document, layer) => {
    readSections(document, layer, document.data, [], {});
    (document.data.only ?? []).forEach((block, index) => {
      const selectors: Selectors = dropAbsent({
        frontend: asList(block.for.frontend),
        core: asList(block.for.core),
        system: asList(block.for.system),
        game: asList(block.for.game),
      });
      if (selectors.game !== undefined && selectors.system === undefined) {
        findings.push(
          makeFinding('game-without-system', {
            place: document.keyPlace(['only', index, 'for', 'game']),
            detail: "A game's path is counted from its system's folder, so that the system must be named too.",
            wayOut: 'Add system: to the for: of this block.',
          }),
        );
        return;
      }
      readSections(document, layer, block, ['only', index], selectors);
    });
  });
  findings.push(...setTwice(candidates));
  return { candidates, extra, findings };
}

function dropAbsent(selectors: { readonly [K in keyof Selectors]-?: Selectors[K] | undefined }): Selectors {
  return {
    ...(selectors.frontend === undefined ? {} : { frontend: selectors.frontend }),
    ...(selectors.core === undefined ? {} : { core: selectors.core }),
    ...(selectors.system === undefined ? {} : { system: selectors.system }),
    ...(selectors.game === undefined ? {} : { game: selectors.game }),
  };
}

function readExtra(document: LayerDocument, data: Members, prefix: Path, layer: string, extra: ExtraKey[]): void {
  const written = data['extra'];
  if (!isMapping(written)) return;
  for (const [instance, files] of Object.entries(written)) {
    if (!isMapping(files)) continue;
    for (const [file, keys] of Object.entries(files)) {
      if (!isMapping(keys)) continue;
      for (const [key, text] of Object.entries(keys)) {
        const path = [...prefix, 'extra', instance, file, key];
        const known = extra.findIndex((e) => e.instance === instance && e.file === file && e.key === key);
        if (known >= 0) extra.splice(known, 1);
        if (text === null) continue;
        extra.push({
          instance,
          file,
          key,
          text: plainText(text),
          origin: { document, path, place: document.place(path), layer },
        });
      }
    }
  }
}

/** Two blocks of one layer with the same selectors that set the same thing. */
function setTwice(candidates: readonly Candidate[]): readonly Finding[] {
  const seen = new Map<string, Candidate>();
  const findings: Finding[] = [];
  for (const candidate of candidates) {
    const key = JSON.stringify([
      candidate.setting,
      candidate.item,
      candidate.rank[2],
      candidate.selectors,
      candidate.implied,
    ]);
    const first = seen.get(key);
    if (first === undefined || first.origin.place.span.start === candidate.origin.place.span.start) {
      seen.set(key, candidate);
      continue;
    }
    findings.push(
      makeFinding('set-twice', {
        place: candidate.origin.place,
        related: [{ place: first.origin.place, note: 'first set here' }],
        setting: candidate.setting,
        detail: `${candidate.setting} is set twice by ${candidate.origin.layer}, for the same reach.`,
        wayOut: 'Keep one of the two, or narrow one of them.',
      }),
    );
  }
  return findings;
}
