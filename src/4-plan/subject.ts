import type { RecordTarget } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';

/** One key of one file and the setting that it says: what edits, recorded keys and planned keys have in common. */
export interface Subject {
  readonly instance: string;
  readonly file: string;
  readonly path: CardPath;
  readonly key: string;
  readonly record?: RecordTarget;
  readonly setting: string;
  readonly item?: string;
  readonly scope: ScopePoint;
}

/** Names a place within one file: a key, or a field of a repeated element. */
export function placeIn(subject: { readonly key: string; readonly record?: RecordTarget }): string {
  const { record } = subject;
  return record === undefined ? subject.key : JSON.stringify([record.at, record.by, record.is, record.field]);
}

/** Names a key of a card, for answers about it. */
export function keyId(subject: {
  readonly path: CardPath;
  readonly key: string;
  readonly record?: RecordTarget;
}): string {
  return `${subject.path}\n${placeIn(subject)}`;
}

/** Names a setting at one scope of one instance, wherever its keys are. */
export function settingId({ instance, setting, item, scope }: Omit<Subject, 'path' | 'key' | 'file'>): string {
  return JSON.stringify([instance, setting, item, scope.core, scope.system, scope.game]);
}
