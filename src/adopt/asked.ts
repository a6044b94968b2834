import type { Edit, WholeFile } from '../model/compiled.ts';
import type { Decision, ScopePoint } from '../model/resolved.ts';
import { sameText } from '../model/same-text.ts';
import { sameValue } from '../model/value.ts';
import type { Value } from '../model/value.ts';
import type { CardText } from './card-text.ts';
import { placeKey } from './difference.ts';
import type { World } from './world.ts';

/** All that a profile asks of a card for one setting at one place, for one raw or computed key, or one whole file. */
export interface Asked {
  readonly setting: string;
  readonly item?: string;
  readonly instance: string;
  readonly scope: ScopePoint;
  /** Absent for raw keys. */
  readonly value: Value | undefined;
  /** Equal when the same is asked. */
  readonly content: string;
  /** Whether the card holds it already, in whatever spelling. */
  held(): boolean;
}

/** Everything that a profile asks of a card, by `placeKey`, or by path and key for what stands by itself. */
export function askedOf(world: World, card: CardText): ReadonlyMap<string, Asked> {
  const groups = new Map<string, Edit[]>();
  for (const edit of world.compiled.edits) {
    const alone = edit.setting === 'extra' || edit.rule.name === 'computed';
    const id = alone ? JSON.stringify([edit.path, edit.key]) : placeKey(edit);
    const known = groups.get(id);
    if (known === undefined) groups.set(id, [edit]);
    else known.push(edit);
  }
  const asked = new Map<string, Asked>();
  for (const [id, edits] of groups) {
    const [first] = edits;
    if (first !== undefined) asked.set(id, ofEdits(world, card, first, edits));
  }
  for (const file of world.compiled.wholeFiles) asked.set(JSON.stringify([file.path]), ofFile(card, file));
  return asked;
}

function ofEdits(world: World, card: CardText, first: Edit, edits: readonly Edit[]): Asked {
  const { setting, item, instance, scope, decision } = first;
  let held: boolean | undefined;
  return {
    setting,
    ...(item === undefined ? {} : { item }),
    instance,
    scope,
    value: decision?.value,
    content: JSON.stringify(edits.map(({ path, key, value, record }) => [path, key, value, record?.is, record?.field])),
    held() {
      know(world, card, instance, scope);
      held ??= isHeld(world, card, edits, decision);
      return held;
    },
  };
}

function know(world: World, card: CardText, name: string, scope: ScopePoint): void {
  const instance = world.compiled.resolved.instances.find((one) => one.name === name);
  const lens = world.lenses.get(name);
  if (instance !== undefined && lens !== undefined) card.know(instance, lens, [{}, scope]);
}

function isHeld(world: World, card: CardText, edits: readonly Edit[], decision: Decision | undefined): boolean {
  const [first] = edits;
  if (first === undefined) return true;
  const byText = decision === undefined || first.rule.name === 'computed';
  if (!byText && edits.every(({ record }) => record === undefined)) {
    const read = world.lenses
      .get(first.instance)
      ?.read(first.setting, first.scope, card.look, decision.value, first.item);
    return read?.kind === 'value' && sameValue(read.value, decision.value);
  }
  if (byText) return edits.every(({ path, key, value }) => sameText(card.look(path, key), value));
  const read = world.lenses.get(first.instance)?.readRecords(first.setting, card.list, first.item, decision.value);
  const none = decision.value.kind === 'texts' && decision.value.texts.length === 0;
  return read?.kind === 'value' ? sameValue(read.value, decision.value) : read?.kind === 'absent' && none;
}

function ofFile(card: CardText, file: WholeFile): Asked {
  const held = card.look(file.path, '');
  return {
    setting: file.setting,
    instance: file.instance,
    scope: {},
    value: undefined,
    content: file.text,
    held: () => held?.kind === 'scalar' && held.text === file.text,
  };
}
