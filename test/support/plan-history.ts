import { parse } from 'yaml';
import { readPlan } from '../../src/1-load/read-plan.ts';
import { readRecord } from '../../src/1-load/read-record.ts';
import { planFiles } from '../../src/4-plan/merge-keys.ts';
import type { MergedFiles, MergeInput } from '../../src/4-plan/merge-keys.ts';
import type { Said } from '../../src/4-plan/classify-key.ts';
import { printRecord } from '../../src/4-plan/print-record.ts';
import { settleRecord } from '../../src/4-plan/settle-record.ts';
import type { Finding } from '../../src/diagnostics/finding.ts';
import { cardPath } from '../../src/model/paths.ts';
import type { CardPath } from '../../src/model/paths.ts';
import type { Shown } from '../../src/model/plan.ts';
import type { CardRecord } from '../../src/model/record.ts';
import { recordedInstances } from '../../src/pipeline/recorded-instances.ts';
import { lineColumn } from '../../src/text/line-index.ts';
import { carryOut, hash, mergeInput, prepareAll } from './merge.ts';
import type { Card, Prepared } from './merge.ts';
import { makeWorld } from './world.ts';
import type { Step } from './world.ts';

/** How a write is asked for. */
export interface Asked {
  readonly 'take-profile'?: true;
  /** By path and key, a blank between them. */
  readonly answers?: Readonly<Record<string, Said>>;
  /** Secrets that are not at hand. */
  readonly without?: readonly string[];
  /** Secrets with another text. */
  readonly secrets?: Readonly<Record<string, string>>;
  /** Only planned. */
  readonly 'dry-run'?: true;
}

interface CardChange {
  readonly file: string;
  readonly find?: string;
  readonly put?: string;
  readonly text?: string;
  readonly remove?: true;
}

/** What a person, a frontend or an update does, in order. Paths on the card as in `settings:wicket/wicket.conf`. */
export type Happening =
  | { readonly workspace: readonly Step[] }
  | { readonly card: readonly CardChange[] }
  /** What is read instead of the record that the tool wrote, or of a plan. */
  | { readonly 'read-record': string }
  | { readonly 'read-plan': string }
  /** Every file of the stock tree of the profile's versions that the profile reaches is laid onto the card. */
  | { readonly stock: true }
  | { readonly write: Asked };

export interface Planned {
  readonly merged: MergedFiles;
  readonly findings: readonly Finding[];
  readonly before: Card;
  readonly after: Card;
  readonly record: CardRecord | undefined;
}

function pathOf(text: string): CardPath {
  const path = cardPath(text);
  if (path === undefined) throw new Error(`${text} is no path of a card.`);
  return path;
}

/** A card and a workspace, and what happened to them. */
export class PlanHistory {
  card: Card = new Map();
  record: CardRecord | undefined;
  private readonly base: Readonly<Record<string, Uint8Array>>;
  private readonly steps: Step[] = [];
  private readonly kept = new Map<string, string>();

  constructor(base: Readonly<Record<string, Uint8Array>>) {
    this.base = base;
  }

  static of(yaml: string): readonly Happening[] {
    return parse(yaml) as readonly Happening[];
  }

  /** A plan, where it was a write. */
  happen(happening: Happening): Planned | undefined {
    if ('workspace' in happening) this.steps.push(...happening.workspace);
    else if ('card' in happening) for (const change of happening.card) this.change(change);
    else if ('stock' in happening) this.layStock();
    else if ('read-record' in happening)
      return this.read(readRecord({ name: '.thumbwright/cards/wren.yaml', text: happening['read-record'] }).findings);
    else if ('read-plan' in happening)
      return this.read(readPlan({ name: 'wren.plan', text: happening['read-plan'] }).findings);
    else return this.write(happening.write);
    return undefined;
  }

  private read(findings: readonly Finding[]): Planned {
    return { merged: { files: [], record: [] }, findings, before: this.card, after: this.card, record: this.record };
  }

  private prepared(): Prepared {
    const [first] = prepareAll(makeWorld(this.base, this.steps));
    if (first === undefined) throw new Error('The world has no profile.');
    return first;
  }

  private change({ file, find, put, text, remove }: CardChange): void {
    const path = pathOf(file);
    if (remove === true) this.card.delete(path);
    else if (text !== undefined) this.card.set(path, text);
    else {
      const now = this.card.get(path) ?? '';
      if (find === undefined || !now.includes(find)) throw new Error(`${file} does not hold ${String(find)}:\n${now}`);
      this.card.set(
        path,
        now.replace(find, () => put ?? ''),
      );
    }
  }

  private layStock(): void {
    const { parts, stock } = this.prepared();
    for (const { path } of [...parts.compiled.edits, ...(this.record?.files ?? [])]) {
      const source = stock(path);
      if (source !== undefined) this.card.set(path, source.text);
    }
  }

  private write(asked: Asked): Planned {
    const prepared = this.prepared();
    const base = mergeInput(prepared, this.card, this.record);
    const find = (name: string): string | undefined =>
      asked.without?.includes(name) === true ? undefined : (asked.secrets?.[name] ?? base.secrets.find(name));
    const input: MergeInput = {
      ...base,
      takeProfile: asked['take-profile'] === true,
      answers: new Map(
        Object.entries(asked.answers ?? {}).map(([id, said]) => [id.replace(/ (?=\S*$)/, '\n'), said] as const),
      ),
      secrets: { ...base.secrets, find },
    };
    const before = this.card;
    const planned = planFiles(input);
    if (planned.findings.some(({ grade }) => grade === 'error') || asked['dry-run'] === true)
      return { merged: planned.value, findings: planned.findings, before, after: before, record: this.record };
    const { resolved } = prepared.parts;
    this.card = carryOut(input, planned.value, before, this.kept);
    for (const text of before.values()) this.kept.set(hash.plain(text), text);
    const record: CardRecord = {
      card: 'a card',
      device: resolved.device.id,
      state: 'written',
      instances: recordedInstances(input.compiled, input.versions, planned.value.record, this.record),
      files: settleRecord(planned.value.record, {
        find,
        keyed: hash.keyed,
        writtenTo: (path) => this.card.get(path),
        keptText: (plain) => this.kept.get(plain),
      }),
    };
    // As it is between two writes: a text.
    const read = readRecord({ name: 'record.yaml', text: printRecord(record) });
    if (read.value === undefined) throw new Error(JSON.stringify(read.findings));
    this.record = read.value;
    return { merged: planned.value, findings: planned.findings, before, after: this.card, record: this.record };
  }
}

function shown(value: Shown): string {
  switch (value.kind) {
    case 'absent':
      return 'nothing';
    case 'secret':
      return `a secret${value.names.length === 0 ? '' : ` (${value.names.join(', ')})`}`;
    case 'text':
      return JSON.stringify(
        value.value.kind === 'scalar' ? value.value.text : value.value.items.map(({ text }) => text),
      );
  }
}

/** A plan in lines that a person can read in a diff. */
export function planLines({ merged, findings, before, after }: Planned): string {
  const lines: string[] = findings.map(
    ({ grade, code, detail, place, wayOut }) =>
      `${grade} ${code}${place === undefined ? '' : ` at ${place.source.name}:${lineColumn(place.source, place.span.start).line}`}: ${detail}\n  way out: ${wayOut}`,
  );
  for (const file of merged.files) {
    lines.push(`${file.path}: ${file.act}`);
    for (const key of file.keys) {
      const at = key.cardLine === undefined ? '' : ` (line ${key.cardLine})`;
      const of = key.origin === undefined ? '' : `, ${key.origin.file}:${key.origin.line}`;
      lines.push(
        `  ${key.class}, ${key.act}: ${key.key === '' ? 'the whole file' : key.key}${at}, ${key.setting}${of}`,
        `    ${shown(key.from)} → ${shown(key.to)}: ${key.why}`,
      );
    }
    const [was, is] = [before.get(file.path), after.get(file.path)];
    if (was !== is)
      lines.push(
        ...(is === undefined
          ? ['  is gone']
          : is
              .trimEnd()
              .split('\n')
              .map((line) => `  | ${line}`)),
      );
  }
  return lines.join('\n');
}
