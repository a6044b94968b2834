import { visible } from '../diagnostics/visible.ts';
import type {
  ControlSeen,
  Refit,
  RefitCounts,
  RefitDropped,
  RefitHold,
  RefitPlaced,
  RefitProposal,
} from '../model/refit.ts';
import { refitTerms } from '../vocabulary/refit-terms.ts';
import type { RefitTerm } from '../vocabulary/refit-terms.ts';
import { numberText } from './number-text.ts';
import { wrap } from './wrap.ts';

const indent = '   ';
/** Columns of the names of hotkeys. */
const nameWidth = 21;

/** What differs, as it is said of one hotkey. What being moved says already is not said again. */
const differs: Readonly<Partial<Record<RefitTerm, string>>> = {
  unwished: 'none of its wishes',
  label: 'another label',
  hand: 'the other hand',
  finger: 'another finger',
  kind: 'another kind of control',
};

/** The proposals, best first: the first in full, of the others what they have otherwise. */
export function refitText(refit: Refit, width: number): string {
  const { from, to, proposals } = refit;
  const lines: string[] = [];
  const say = (text: string, before = ''): void => void lines.push(...wrap(text, width, before).split('\n'));
  const [first, ...others] = proposals;
  if (first === undefined) {
    const own = refit.stays.map(({ action, controls }) => `${action} on ${controlText(controls)}`);
    const why =
      own.length === 0
        ? `${visible(from.name)} has no hotkeys that ${visible(to.name)} could take over.`
        : `No hold control of ${visible(to.name)} leaves it what it has of its own: ${own.join(', ')}. Take one of them out of its profile, or name another hold control there.`;
    return `${wrap(why, width, '')}\n`;
  }
  say(
    `The hotkeys of ${visible(from.name)} on ${visible(to.name)}, ${proposals.length === 1 ? 'the only way there is' : `the best ${proposals.length} ways`}. Controls are told by position, and by label on both.`,
  );
  lines.push('', ...proposalLines(refit, first, 1, width));
  others.forEach((proposal, k) => lines.push('', ...otherLines(refit, proposal, first, k + 2, width)));
  const common = commonLines(refit, width);
  if (common.length > 0) lines.push('', ...common);
  return lines.map((line) => `${line.trimEnd()}\n`).join('');
}

/** One proposal in full, and what it would write. */
export function takenText(refit: Refit, number: number, file: string, width: number): string {
  const proposal = refit.proposals[number - 1];
  if (proposal === undefined) return '';
  const lines = [...proposalLines(refit, proposal, number, width), ''];
  const changes = [...proposal.changes].sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  for (const { setting, only, before, after, line } of changes) {
    const at = `${visible(file)}${line === undefined ? '' : `:${line}`}`;
    const now = before === undefined ? '(not there)' : visible(before);
    lines.push(
      ...hang(`${at}: ${setting}: ${now} -> ${visible(after)}${only === '' ? '' : `, ${visible(only)}`}`, width),
    );
  }
  if (proposal.changes.length === 0) lines.push(`${visible(file)} says all of it already.`);
  return lines.map((line) => `${line.trimEnd()}\n`).join('');
}

function proposalLines(refit: Refit, proposal: RefitProposal, number: number, width: number): readonly string[] {
  const { kept, moved, dropped, holds } = proposal;
  return [
    `${number}. ${headOf(proposal)}`,
    ...holds.flatMap((hold) => row('hold', holdText(hold), width)),
    ...section(
      'kept',
      kept.map((one): Row => [nameOf(one), placedText(one)]),
      width,
    ),
    ...section(
      'moved',
      moved.map((one): Row => [nameOf(one), movedText(one)]),
      width,
    ),
    ...section(
      'dropped',
      dropped.map((one): Row => [nameOf(one), droppedText(one)]),
      width,
    ),
    ...costLines(refit, proposal, number, width),
  ];
}

function headOf({ kept, moved, dropped }: RefitProposal): string {
  return `${kept.length} kept, ${moved.length} moved, ${dropped.length} dropped`;
}

/** Only what another proposal does otherwise than the first. */
function otherLines(
  refit: Refit,
  proposal: RefitProposal,
  first: RefitProposal,
  number: number,
  width: number,
): readonly string[] {
  const key = (one: RefitHold | RefitPlaced): string => JSON.stringify(one);
  const same = new Set([...first.holds, ...first.kept, ...first.moved].map(key));
  const news = <T extends RefitHold | RefitPlaced>(all: readonly T[]): readonly T[] =>
    all.filter((one) => !same.has(key(one)));
  const dropped = proposal.dropped.filter((one) => !first.dropped.some((other) => nameOf(other) === nameOf(one)));
  return [
    `${number}. ${headOf(proposal)}: as 1, but`,
    ...news(proposal.holds).flatMap((hold) => row('hold', holdText(hold), width)),
    ...section(
      'kept',
      news(proposal.kept).map((one): Row => [nameOf(one), placedText(one)]),
      width,
    ),
    ...section(
      'moved',
      news(proposal.moved).map((one): Row => [nameOf(one), movedText(one)]),
      width,
    ),
    ...section(
      'dropped',
      dropped.map((one): Row => [nameOf(one), droppedText(one)]),
      width,
    ),
    ...costLines(refit, proposal, number, width),
  ];
}

type Row = readonly [name: string, text: string];

function section(title: string, rows: readonly Row[], width: number): readonly string[] {
  return rows.length === 0
    ? []
    : [`${indent}${title}`, ...rows.flatMap(([name, text]) => row(name, text, width, '  '))];
}

/** A name, and a text beside it that goes on below itself. */
function row(name: string, text: string, width: number, more = ''): readonly string[] {
  const before = indent + more;
  const shown = visible(name);
  const room = before.length + nameWidth + 1;
  const lines = wrap(text, width, ' '.repeat(room)).split('\n');
  const [first = '', ...rest] = lines;
  // A long name stands on a line of its own.
  if (shown.length > nameWidth) return [...wrap(shown, width, before).split('\n'), ...lines];
  return [`${before}${shown.padEnd(nameWidth)} ${first.trimStart()}`, ...rest];
}

function nameOf({ action, only }: { readonly action: string; readonly only: string }): string {
  return only === '' ? action : `${action}, ${only}`;
}

function holdText({ from, to, why, counts }: RefitHold): string {
  if (from === undefined || to === undefined) return to === undefined ? 'none' : controlText([to]);
  const placed =
    counts.moved === undefined ? placedPair([from], [to]) : `${controlText([from])} -> ${controlText([to])}`;
  return why === undefined ? placed : `${placed}: ${visible(why)}`;
}

function placedText({ from, to, counts, manner }: RefitPlaced): string {
  const more = differenceOf({ ...counts, label: 0 });
  return `${mannerText(manner)}${placedPair(from, to)}${more === '' ? '' : `: ${more}`}`;
}

/** The same place: its label, or both where they differ. */
function placedPair(from: readonly ControlSeen[], to: readonly ControlSeen[]): string {
  return to
    .map(({ position, label }, k) => {
      const was = from[k]?.position === position ? from[k].label : undefined;
      if (was === label || was === undefined || label === undefined) return controlText([{ position, label }]);
      return `${position} (${visible(was)} -> ${visible(label)})`;
    })
    .join(' + ');
}

function movedText({ from, to, why, counts, manner }: RefitPlaced): string {
  const samePlace = from.every(({ position }) => to.some((one) => one.position === position));
  const what = samePlace
    ? `${placedPair(from, to)}, with the other hold`
    : `${controlText(from)} -> ${controlText(to)}`;
  const more = [...why.map((one) => visible(one)), differenceOf(counts)].filter((one) => one !== '').join('; ');
  return `${mannerText(manner)}${what}${more === '' ? '' : `: ${more}`}`;
}

function droppedText({ from, why, freeing, manner }: RefitDropped): string {
  const [best, ...rest] = freeing;
  const free =
    best === undefined
      ? 'No hotkey that is given up would make room.'
      : `Giving up ${listOf(best.giveUp.map((one) => visible(one)))} would free ${controlText(best.controls)}${
          rest.length === 0
            ? ''
            : `; ${rest
                .slice(0, 2)
                .map(({ giveUp, controls }) => `${listOf(giveUp.map((one) => visible(one)))}, ${controlText(controls)}`)
                .join('; ')}`
        }.`;
  return `${mannerText(manner)}${controlText(from)}: ${why.length === 0 ? 'every control that it may have is taken' : visible(why.join('; '))}. ${free}`;
}

function mannerText(manner: RefitPlaced['manner']): string {
  return manner === 'alone' ? 'alone: ' : manner === 'chord' ? 'chord: ' : '';
}

function differenceOf(counts: RefitCounts): string {
  return refitTerms.flatMap(({ name }) => ((counts[name] ?? 0) > 0 ? (differs[name] ?? []) : [])).join(', ');
}

function controlText(controls: readonly ControlSeen[]): string {
  return controls
    .map(({ position, label }) => (label === undefined ? position : `${position} (${visible(label)})`))
    .join(' + ');
}

function costLines(
  { bound, looked, most }: Refit,
  { terms, points, proved }: RefitProposal,
  number: number,
  width: number,
): readonly string[] {
  const sum = terms.map(({ term, count, points: own }) => `${saysOf(term)}: ${count} (${numberText(own)})`).join('; ');
  const rank = number === 1 ? 'best' : number === 2 ? 'second best' : number === 3 ? 'third best' : `number ${number}`;
  const proof = proved
    ? `proved ${rank}`
    : `best found in ${looked} of ${most} steps; none costs less than ${numberText(bound)}`;
  return row('cost', `${numberText(points)} points, ${proof}${sum === '' ? '' : `. ${sum}`}`, width);
}

function saysOf(term: RefitTerm): string {
  return refitTerms.find(({ name }) => name === term)?.says ?? term;
}

/** What is the same in every proposal. */
function commonLines({ plain, left, stays, idlePins, from, to }: Refit, width: number): readonly string[] {
  const rows: string[] = [];
  if (left.length > 0)
    rows.push(
      `Not for ${visible(to.name)}, whichever is taken`,
      ...left.flatMap(({ setting, only, why }) => row(nameOf({ action: short(setting), only }), visible(why), width)),
    );
  if (plain.length > 0)
    rows.push(
      `Taken over as ${visible(from.name)} has it`,
      ...plain.flatMap(({ setting, only, value }) =>
        row(nameOf({ action: short(setting), only }), visible(value), width),
      ),
    );
  if (stays.length > 0)
    rows.push(
      `${visible(to.name)}'s own, which stay`,
      ...stays.flatMap(({ action, controls }) => row(action, controlText(controls), width)),
    );
  if (idlePins.length > 0)
    rows.push(
      ...wrap(
        `Pinned, though ${visible(from.name)} has no such hotkey: ${idlePins.map((pin) => visible(pin)).join(', ')}.`,
        width,
        '',
      ).split('\n'),
    );
  return rows;
}

function short(setting: string): string {
  return setting.replace(/^hotkeys\.bind\./, '');
}

function listOf(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`;
}

function hang(text: string, width: number): readonly string[] {
  const [first = '', ...rest] = wrap(text, width - 2, '').split('\n');
  return [first, ...rest.map((line) => `  ${line}`)];
}
