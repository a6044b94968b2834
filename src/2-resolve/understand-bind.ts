import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Path } from '../model/document.ts';
import type { BindWish, Wish } from '../model/resolved.ts';
import type { Position } from '../vocabulary/positions.ts';
import type { SettingDefinition } from '../vocabulary/types.ts';
import { findControl } from './understand-control.ts';
import type { Written } from './understand.ts';

type Members = Readonly<Record<string, unknown>>;

function isMapping(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * A hotkey: `start`, `{ label: A }`, `{ control: [x, y], while: held }`, `{ chord: [select, start] }`,
 * `{ alone: thumb-right, if-present: true }`, `none`, or a list of these, best first.
 */
export function understandBind(setting: SettingDefinition, written: Written): Outcome<Wish | undefined> {
  const whiles = setting.type.kind === 'bind' && setting.type.whiles;
  const findings: Finding[] = [];
  const wishes: BindWish[] = [];

  const fault = (path: Path, what: string, wayOut: string): void => {
    findings.push(
      makeFinding('wrong-value', {
        place: written.document.place(path),
        setting: setting.id,
        detail: `${setting.id}: ${what}.`,
        wayOut,
      }),
    );
  };

  const addOne = (
    kind: 'with-hold' | 'alone',
    value: unknown,
    path: Path,
    manner: BindWish['while'],
    ifPresent: boolean,
  ): void => {
    const reference = findControl(value, written, path, setting);
    if (reference.kind === 'wrong') {
      findings.push(reference.finding);
      return;
    }
    const place = written.document.place(path);
    wishes.push(
      reference.kind === 'found'
        ? { press: { kind, position: reference.position }, while: manner, ifPresent, missing: [], place }
        : { press: { kind: 'missing' }, while: manner, ifPresent, missing: [reference.as], place },
    );
  };

  const addChord = (value: unknown, path: Path, manner: BindWish['while'], ifPresent: boolean): void => {
    const listed: readonly unknown[] = Array.isArray(value) ? value : [value];
    const found: Position[] = [];
    const missing: string[] = [];
    let bad = false;
    listed.forEach((item, index) => {
      const reference = findControl(item, written, [...path, index], setting);
      if (reference.kind === 'found') {
        if (found.includes(reference.position)) {
          fault(
            [...path, index],
            `${reference.position} stands twice in one chord`,
            'Name each control of the chord once.',
          );
          bad = true;
        }
        found.push(reference.position);
      } else if (reference.kind === 'missing') missing.push(reference.as);
      else {
        findings.push(reference.finding);
        bad = true;
      }
    });
    if (bad) return;
    const place = written.document.place(path);
    wishes.push(
      missing.length > 0
        ? { press: { kind: 'missing' }, while: manner, ifPresent, missing, place }
        : { press: { kind: 'chord', positions: found }, while: manner, ifPresent, missing: [], place },
    );
  };

  const add = (value: unknown, path: Path): void => {
    if (value === 'none') {
      wishes.push({
        press: { kind: 'none' },
        while: 'press',
        ifPresent: false,
        missing: [],
        place: written.document.place(path),
      });
      return;
    }
    if (!isMapping(value) || 'label' in value) {
      addOne('with-hold', value, path, whiles ? 'held' : 'press', false);
      return;
    }
    const manner = value['while'];
    if (manner !== undefined && !whiles) {
      fault([...path, 'while'], 'it is done once when pressed, not while held', 'Remove while.');
      return;
    }
    const when: BindWish['while'] = manner === 'toggled' ? 'toggled' : whiles ? 'held' : 'press';
    const ifPresent = value['if-present'] === true;
    const kinds = ['control', 'chord', 'alone'].filter((kind) => kind in value);
    const [kind] = kinds;
    if (kind === undefined || kinds.length > 1) {
      fault(
        path,
        'it says neither or more than one of control, chord and alone',
        'Write exactly one of control, chord and alone.',
      );
      return;
    }
    const given = value[kind];
    if (kind === 'chord') {
      addChord(given, [...path, 'chord'], when, ifPresent);
      return;
    }
    const listed: readonly unknown[] = Array.isArray(given) ? given : [given];
    listed.forEach((item, index) => {
      addOne(
        kind === 'control' ? 'with-hold' : 'alone',
        item,
        Array.isArray(given) ? [...path, kind, index] : [...path, kind],
        when,
        ifPresent,
      );
    });
  };

  if (Array.isArray(written.value))
    written.value.forEach((item: unknown, index) => add(item, [...written.path, index]));
  else add(written.value, written.path);
  return { value: wishes.length > 0 ? { kind: 'binds', wishes } : undefined, findings };
}
