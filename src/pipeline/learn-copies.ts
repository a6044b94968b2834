import { readDialect } from '../1-load/read-document.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { learn } from '../learn/learn.ts';
import type { Label, Learnt, Proposal, Series } from '../learn/contract.ts';
import { readCopy } from '../learn/copies/read-copy.ts';
import { dialectText } from '../learn/write/dialect-text.ts';
import { extendDialect } from '../learn/write/extend-dialect.ts';
import type { HostPath } from '../model/paths.ts';
import type { Sheet } from '../model/sheet.ts';
import { prepareProfile } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import type { SourceText } from '../text/source-text.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import type { Role } from '../vocabulary/types.ts';
import { settingById } from '../vocabulary/registry.ts';
import type { Stays } from './sheet-of.ts';
import { labelValue } from './label-value.ts';

export type { Learnt, Proposal } from '../learn/contract.ts';

/** A folder to learn from, and how it is called in messages. */
export interface CopyFolder {
  readonly folder: HostPath;
  readonly name: string;
}

/** A change as somebody typed it: `[COPY:][SYSTEM/]SETTING=VALUE`, copies counted from 1. */
export interface LabelWritten {
  readonly text: string;
  readonly told: Label['told'];
}

export interface LearnInput {
  readonly profile: HostPath;
  readonly frontend: string;
  readonly copies: readonly CopyFolder[];
  readonly labels: readonly LabelWritten[];
  /** The sheet by which the copies were made, one after the other from its first. */
  readonly sheet?: { readonly sheet: Sheet; readonly stays: Stays };
}

export interface LearntCopies {
  readonly learnt: Learnt;
  readonly series: Series;
}

/** What was typed wrong, a sentence each. */
export type LearnOutcome =
  | { readonly kind: 'learnt'; readonly value: LearntCopies; readonly findings: readonly Finding[] }
  | { readonly kind: 'wrong'; readonly faults: readonly string[] }
  | { readonly kind: 'unreadable'; readonly findings: readonly Finding[] };

/** Learns from copies of one frontend's folder on the device of a profile. The folders are only read. */
export function learnCopies(project: Project, input: LearnInput): LearnOutcome {
  const { parts, findings } = prepareProfile(project, input.profile, false);
  if (parts === undefined) return { kind: 'unreadable', findings };
  const { device, catalog } = parts.resolved;
  const faults: string[] = [];
  const labels: Label[] = [];
  for (const written of input.labels) {
    const read = readLabel(written, input.copies.length, Object.keys(catalog?.data.systems ?? {}), device.controls);
    if (typeof read === 'string') faults.push(read);
    else labels.push(read);
  }
  if (faults.length > 0) return { kind: 'wrong', faults };
  const series: Series = {
    name: input.frontend,
    device: { id: device.id, name: device.name },
    copies: input.copies.map(({ folder, name }) => readCopy(project.files, folder, name)),
    labels: [...sheetLabels(input), ...labels],
    parts: device.parts,
    controls: device.controls,
    ...(catalog === undefined ? {} : { catalog: catalog.data }),
  };
  const learnt = learn([series]);
  return { kind: 'learnt', value: { learnt, series }, findings: learnt.findings };
}

function readLabel(
  { text, told }: LabelWritten,
  copies: number,
  systems: readonly string[],
  controls: Series['controls'],
): Label | string {
  const match = /^(?:(\d+):)?(?:([a-z0-9-]+)\/)?([a-z][a-z0-9.-]*)=(.*)$/s.exec(text);
  const [, number, system, id = '', value = ''] = match ?? [];
  if (match === null)
    return `${JSON.stringify(text)} is no change. Write SETTING=VALUE, as in saves.state-on-exit=true.`;
  const setting = settingById(id);
  if (setting === undefined) return `No setting is called ${JSON.stringify(id)}.`;
  const copy = number === undefined ? copies - 1 : Number(number) - 1;
  if (copy < 0 || copy >= copies) return `${JSON.stringify(text)}: there are ${copies} copies, counted from 1.`;
  if (system !== undefined && !systems.includes(system))
    return `${JSON.stringify(text)}: the catalog has no system ${JSON.stringify(system)}.`;
  const read = labelValue(setting, value, controls);
  if (read.kind === 'bad') return `${JSON.stringify(text)}: ${read.why}`;
  return {
    copy,
    setting,
    value: read.value,
    scope: system === undefined ? {} : { system },
    told,
    ...(read.manner === undefined ? {} : { manner: read.manner }),
  };
}

/** What a sheet had changed before each copy. Values that the person picked are told by `--changed`. */
function sheetLabels({ sheet, copies }: LearnInput): readonly Label[] {
  if (sheet === undefined) return [];
  const stand = (id: string, position: Stays['hold']): readonly Label[] => {
    const setting: SettingDefinition | undefined = settingById(id);
    if (setting === undefined || position === undefined) return [];
    const value =
      setting.type.kind === 'bind'
        ? ({ kind: 'press', press: { kind: 'with-hold', position }, while: 'press' } as const)
        : ({ kind: 'control', position } as const);
    return [{ copy: 0, setting, value, scope: {}, told: 'stands' }];
  };
  return [
    ...stand('hotkeys.hold', sheet.stays.hold),
    ...stand('hotkeys.bind.open-menu', sheet.stays.openMenu),
    ...sheet.sheet.copies
      .slice(0, copies.length)
      .flatMap(({ changes }, copy) =>
        changes.flatMap(({ setting, to }): readonly Label[] =>
          to === undefined ? [] : [{ copy, setting, value: to, scope: {}, told: 'changed' }],
        ),
      ),
  ];
}

/** The dialect file with what is taken: a new one, or the one that stands with what is new. */
export interface DialectWriting {
  readonly text: string;
  /** Settings that the dialect spells otherwise already, and that stay so. */
  readonly otherwise: readonly string[];
  readonly findings: readonly Finding[];
}

/** What a dialect spells already, so that nobody need be asked about it. Nothing where it cannot be read. */
export function standingParts(standing: SourceText | undefined): {
  readonly settings: ReadonlySet<string>;
  readonly controls: boolean;
} {
  const data = standing === undefined ? undefined : readDialect(standing).value?.data;
  return { settings: new Set(Object.keys(data?.settings ?? {})), controls: data?.controls !== undefined };
}

export function writeDialect(
  name: string,
  roles: readonly Role[],
  learnt: Learnt,
  taken: readonly Proposal[],
  controls: boolean,
  standing: SourceText | undefined,
): DialectWriting {
  const parts = { name, roles, learnt, taken, controls };
  if (standing === undefined) return { text: dialectText(parts), otherwise: [], findings: [] };
  const read = readDialect(standing);
  if (read.value === undefined) return { text: standing.text, otherwise: [], findings: read.findings };
  return extendDialect(read.value, parts);
}
