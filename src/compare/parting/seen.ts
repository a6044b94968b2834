import type { SideValue, Which } from '../../model/comparison.ts';
import type { Account, Candidate, Instance, Selectors, Unreached, Weighed } from '../../model/resolved.ts';
import { placeLine } from '../../text/place-line.ts';
import type { Cell, Sides } from '../side.ts';
import { valueAt } from '../../model/value-at.ts';

/** One side of a cell, with all that was weighed for it. */
export interface Seen {
  readonly which: Which;
  /** As the person named the side. */
  readonly shown: string;
  readonly device: string;
  readonly instance: Instance | undefined;
  readonly account: Account;
  /** The line that has the say. */
  readonly top: Weighed | undefined;
  readonly value: SideValue;
}

const nothing: Account = { lines: [], decision: undefined, rejected: [] };

export function seen(sides: Sides, cell: Cell, which: Which): Seen {
  const { shown, resolved } = sides[which];
  const instance = cell.pair[which];
  const account = instance === undefined ? nothing : resolved.account(instance, cell.setting, cell.scope, cell.item);
  return {
    which,
    shown,
    device: resolved.device.name,
    instance,
    account,
    top: account.lines.find(({ unreached }) => unreached === undefined),
    value: cell[which],
  };
}

/** `profiles/fen.yaml:17` */
export function lineOf({ origin }: Candidate): string {
  return placeLine(origin.place);
}

/** What a line says, as written, its blanks evened out. */
export function textOf({ origin }: Candidate): string {
  const { source, span } = origin.place;
  return evened(source.text.slice(span.start, span.end)).trim();
}

/** Whether two lines say the same, however it is laid out. */
export function saySame({ origin: a }: Candidate, { origin: b }: Candidate): boolean {
  const [one, other] = [a, b].map(({ document, path }) => JSON.stringify(valueAt(document.data, path)));
  return one === other;
}

/** Each run of blanks as one. */
export function evened(text: string): string {
  return text.replaceAll(/\s+/g, ' ');
}

/**
 * Equal for one line read twice, by two profiles that share a layer, or at two revisions: where it stands in its file,
 * a block counted by whom it is for.
 */
export function lineKey({ origin, selectors }: Candidate): string {
  const { document, path } = origin;
  const [first, , ...inBlock] = path;
  return JSON.stringify([
    document.source.name,
    first === 'only' ? inBlock : path,
    ...selectorNames.map((name) => selectors[name] ?? []),
  ]);
}

const selectorNames = ['frontend', 'core', 'system', 'game'] as const satisfies readonly (keyof Selectors)[];

/** Why a line does not speak to an instance: a clause. */
export function unreachedText(unreached: Unreached, instance: Instance | undefined): string {
  return unreached.by === 'installed'
    ? `${instance?.name ?? 'it'} has no core that it is about`
    : `it is only for ${unreached.by} ${unreached.only.join(' or ')}`;
}
