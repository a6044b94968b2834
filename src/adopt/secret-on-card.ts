import type { KeyLookup } from '../dialect/contract.ts';
import type { Instance, ScopePoint } from '../model/resolved.ts';
import type { SyntaxValue } from '../syntax/contract.ts';
import type { LensWith } from './read-card.ts';

/** A private-use character that stands for the secret while the text around it is found. */
const mark = '\uf8ff';

/** The text of a secret as it stands on the card; undefined where it is not there by itself, or stands for a name. */
export function secretOnCard(
  instance: Instance,
  lensWith: LensWith,
  look: KeyLookup,
  setting: string,
  scope: ScopePoint,
  item: string | undefined,
): string | undefined {
  const lens = lensWith(instance, { secretValue: () => mark });
  const spelled = lens?.spell(setting, { kind: 'secret', name: 'any' }, scope, item);
  if (spelled === undefined || spelled.kind === 'cannot') return undefined;
  const found = spelled.writes.map((write) => between(write.value, look(write.path, write.key)));
  const [first] = found;
  return first !== undefined && first !== '' && found.every((text) => text === first) ? first : undefined;
}

function between(pattern: SyntaxValue | undefined, held: SyntaxValue | undefined): string | undefined {
  if (pattern?.kind !== 'scalar' || held?.kind !== 'scalar') return undefined;
  const [before = '', after, ...more] = pattern.text.split(mark);
  if (after === undefined || more.length > 0) return undefined;
  const { text } = held;
  if (text.length < before.length + after.length || !text.startsWith(before) || !text.endsWith(after)) return undefined;
  return text.slice(before.length, text.length - after.length);
}
