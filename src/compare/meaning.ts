import type { Press, Value } from '../model/value.ts';
import type { Position } from '../vocabulary/positions.ts';
import { settingById } from '../vocabulary/registry.ts';

/** What a value's meaning depends on besides itself. */
export interface MeaningContext {
  readonly hold: Position | undefined;
  /** The name by which an instance is known on both sides. */
  readonly instanceName: (instance: string) => string;
}

/**
 * A value as a text that is equal for two values that mean the same: what only looks different (order where none is
 * meant, a chord that is the hold control and another, the name of the same copy) is evened out.
 */
export function meaningOf(setting: string, value: Value, context: MeaningContext): string {
  return JSON.stringify(evened(setting, value, context));
}

function evened(setting: string, value: Value, { hold, instanceName }: MeaningContext): unknown {
  switch (value.kind) {
    case 'press':
      return [value.while, pressMeaning(value.press, hold)];
    case 'words': {
      const type = settingById(setting)?.type;
      return type?.kind === 'words' && type.ordered ? value : { kind: 'words', words: asSet(value.words) };
    }
    case 'texts':
      return isSet(setting) ? { kind: 'texts', texts: asSet(value.texts) } : value;
    case 'networks':
      return value.networks.map(({ name, password, hidden }) => [name, password, hidden]);
    case 'core':
      return { kind: 'core', instance: instanceName(value.instance), core: value.core };
    case 'boolean':
    case 'word':
    case 'number':
    case 'quantity':
    case 'text':
    case 'secret':
    case 'control':
    case 'none':
    case 'place':
      return value;
  }
}

/** Games and systems are marked one by one, so that their order says nothing; languages are wishes, best first. */
function isSet(setting: string): boolean {
  const type = settingById(setting)?.type;
  return type?.kind === 'lists' || (type?.kind === 'texts' && (type.of === 'game' || type.of === 'system'));
}

function asSet<T extends string>(members: readonly T[]): readonly T[] {
  return [...new Set(members)].sort();
}

/** With hold, or exactly these together: the hands do the same where the chord is hold and one more. */
export function pressMeaning(
  press: Press,
  hold: Position | undefined,
): readonly ['hold' | 'alone' | 'chord', ...Position[]] {
  switch (press.kind) {
    case 'with-hold':
      return ['hold', press.position];
    case 'alone':
      return ['alone', press.position];
    case 'chord': {
      const others = press.positions.filter((position) => position !== hold);
      return others.length === 1 && others.length < press.positions.length
        ? ['hold', ...others]
        : ['chord', ...asSet(press.positions)];
    }
  }
}

/** What is pressed at once, the hold control included. */
export function pressedTogether(press: Press, hold: Position | undefined): readonly Position[] {
  switch (press.kind) {
    case 'with-hold':
      return [...(hold === undefined ? [] : [hold]), press.position];
    case 'alone':
      return [press.position];
    case 'chord':
      return press.positions;
  }
}
