import type { Parting } from '../../model/parting.ts';
import type { Weighed } from '../../model/resolved.ts';
import { lineKey, lineOf, saySame, textOf, unreachedText } from './seen.ts';
import type { Seen } from './seen.ts';

/** What becomes of the line that has the say on one side, on the other. */
type Fate =
  /** There is no such line. */
  | { readonly kind: 'none' }
  /** It has the say there too, and says another thing. */
  | { readonly kind: 'changed'; readonly twin: Weighed }
  /** The other side's layers have no such line. */
  | { readonly kind: 'absent' }
  | { readonly kind: 'out-of-reach'; readonly why: string }
  /** It speaks there, and another one is over it. */
  | { readonly kind: 'over-ruled' };

function fateOf(one: Seen, other: Seen): Fate {
  if (one.top === undefined) return { kind: 'none' };
  const key = lineKey(one.top.candidate);
  const twin = other.account.lines.find(({ candidate }) => lineKey(candidate) === key);
  if (twin === undefined) return { kind: 'absent' };
  if (twin.unreached !== undefined) return { kind: 'out-of-reach', why: unreachedText(twin.unreached, other.instance) };
  return twin === other.top ? { kind: 'changed', twin } : { kind: 'over-ruled' };
}

/** `profiles/fen.yaml:17 (true)` */
function quoted({ candidate }: Weighed): string {
  const text = textOf(candidate);
  if (candidate.wish.kind === 'clear') return `${lineOf(candidate)} (null, which clears it)`;
  return text.length > 40 ? lineOf(candidate) : `${lineOf(candidate)} (${text})`;
}

/** How the lines part that have the say; undefined: they say the same, or there is none. */
export function partLines(a: Seen, b: Seen): Parting | undefined {
  if (a.top !== undefined && b.top !== undefined && saySame(a.top.candidate, b.top.candidate)) return undefined;
  const [ofA, ofB] = [fateOf(a, b), fateOf(b, a)];
  if (ofA.kind === 'none' && ofB.kind === 'none') return undefined;
  const says = (sentence: string): Parting => ({ stage: 'lines', says: sentence });
  if (ofA.kind === 'changed' && a.top !== undefined) {
    const [before, after] = [textOf(a.top.candidate), textOf(ofA.twin.candidate)];
    return says(`${lineOf(ofA.twin.candidate)} is ${before} for ${a.shown}, and ${after} for ${b.shown}.`);
  }
  if (ofA.kind === 'over-ruled') return says(overRuled(a, b, ofB));
  if (ofB.kind === 'over-ruled') return says(overRuled(b, a, ofA));
  if (ofA.kind === 'absent' && ofB.kind === 'absent' && a.top !== undefined && b.top !== undefined)
    return says(`Each has a line of its own: ${a.shown} ${quoted(a.top)}, and ${b.shown} ${quoted(b.top)}.`);
  return says([alone(a, b, ofA), alone(b, a, ofB)].filter((one) => one !== '').join(' '));
}

/** The line that has the say on `one` speaks on `other` too, where another is over it. */
function overRuled(one: Seen, other: Seen, fate: Fate): string {
  if (one.top === undefined || other.top === undefined) return '';
  const [below, over] = [quoted(one.top), quoted(other.top)];
  if (fate.kind === 'out-of-reach')
    return `Over ${below} ${other.shown} has ${over}, which does not reach ${one.shown}: ${fate.why}.`;
  if (fate.kind === 'absent') return `Over ${below} ${other.shown} has a line that ${one.shown} lacks: ${over}.`;
  return `Both have ${below} and ${over}, and their layers lie in another order.`;
}

/** The line that has the say on `one` has none on `other`; empty where there is none. */
function alone(one: Seen, other: Seen, fate: Fate): string {
  if (one.top === undefined) return '';
  if (fate.kind === 'out-of-reach')
    return `${quoted(one.top)} reaches ${one.shown}, and not ${other.shown}: ${fate.why}.`;
  return `Only ${one.shown} has a line for it: ${quoted(one.top)}.`;
}
