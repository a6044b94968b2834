import type { ControlsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import { sameText } from '../../model/same-text.ts';
import type { ControlForms } from './control-forms.ts';
import type { Cannot, Moment } from './contract.ts';
import { onlySlot } from './held.ts';

export type ChordOrder = NonNullable<NonNullable<ControlsWritten['chord']>['order']>;

/** Digits by their amount, so that 10 comes after 9. */
function inOrder(a: string, b: string): number {
  return a.length === b.length || !/^[0-9]+$/.test(a + b) ? (a < b ? -1 : a > b ? 1 : 0) : a.length - b.length;
}

function permutations(positions: readonly Position[]): readonly (readonly Position[])[] {
  if (positions.length < 2) return [positions];
  return positions.flatMap((first) =>
    permutations(positions.filter((one) => one !== first)).map((rest) => [first, ...rest]),
  );
}

/** Several controls in one value: joined in one text, or as the syntax's own list where nothing joins them. */
export class ChordText {
  private readonly forms: ControlForms;
  private readonly join: string | undefined;
  private readonly order: ChordOrder;

  constructor(forms: ControlForms, join: string | undefined, order: ChordOrder) {
    this.forms = forms;
    this.join = join;
    this.order = order;
  }

  write(positions: readonly Position[], at: Moment): SyntaxValue | Cannot {
    const texts: string[] = [];
    for (const position of this.arrange(positions, at)) {
      const forms = this.forms.of(position, at);
      if ('kind' in forms) return forms;
      texts.push(forms[0]?.text ?? '');
    }
    return this.put(texts);
  }

  /** The same chord with controls in another form of theirs, and in another order where the order says nothing. */
  others(positions: readonly Position[], at: Moment): readonly SyntaxValue[] {
    const arranged = this.arrange(positions, at);
    const orders = this.order === 'pressed' || positions.length > 4 ? [arranged] : permutations(arranged);
    const found: SyntaxValue[] = [];
    for (const order of orders) {
      let ways: readonly (readonly string[])[] = [[]];
      for (const position of order) {
        const forms = this.forms.of(position, at);
        if ('kind' in forms) return [];
        ways = ways.flatMap((way) => forms.map((form) => [...way, form.text])).slice(0, 64);
      }
      found.push(...ways.map((way) => this.joined(way)));
    }
    return found;
  }

  private put(texts: string[]): SyntaxValue {
    return this.joined(this.order === 'sorted' ? texts.sort(inOrder) : texts);
  }

  private joined(texts: readonly string[]): SyntaxValue {
    return this.join === undefined
      ? { kind: 'list', items: texts.map((text) => ({ text })) }
      : { kind: 'scalar', text: texts.join(this.join) };
  }

  /** Every chord that the value may be: a text may name several controls, and what joins them may be part of a name. */
  read(held: SyntaxValue, at: Moment): readonly (readonly Position[])[] {
    const chords = this.split(held, at).flatMap((texts) => {
      let found: readonly (readonly Position[])[] = [[]];
      for (const text of texts) {
        const positions = this.forms.positions(text, onlySlot, at).slice(0, 4);
        found = found.flatMap((chord) => positions.map((position) => [...chord, position]));
      }
      return found;
    });
    return chords.filter((chord) => chord.length > 0 && new Set(chord).size === chord.length);
  }

  /** Blanks around what joins the controls mean nothing. */
  same(held: SyntaxValue, said: SyntaxValue): boolean {
    return sameText(this.tight(held), this.tight(said));
  }

  private tight(value: SyntaxValue): SyntaxValue {
    const join = this.join?.trim() ?? '';
    if (value.kind === 'list' || join === '') return value;
    return {
      kind: 'scalar',
      text: value.text
        .split(join)
        .map((text) => text.trim())
        .join(join),
    };
  }

  /** The ways to take a value for known texts of controls; at most a few, of at most six controls. */
  private split(held: SyntaxValue, at: Moment): readonly (readonly string[])[] {
    if (this.join === undefined)
      return held.kind === 'list' && held.items.length <= 6 ? [held.items.map((item) => item.text)] : [];
    if (held.kind === 'list' || held.text.length > 400) return [];
    const { text } = held;
    const known = this.forms.texts(at).filter((one) => one !== '' && text.includes(one));
    const join = this.join.trim() === '' ? this.join : this.join.trim();
    const blanks = (from: number): number =>
      join === this.join && join.trim() === '' ? 0 : (/^\s*/.exec(text.slice(from))?.[0].length ?? 0);
    const found: (readonly string[])[] = [];
    const walk = (from: number, texts: readonly string[]): void => {
      if (found.length >= 8 || texts.length > 6) return;
      for (const one of known) {
        if (!text.startsWith(one, from)) continue;
        const after = from + one.length;
        if (after === text.length) found.push([...texts, one]);
        const joint = after + blanks(after);
        if (text.startsWith(join, joint)) walk(joint + join.length + blanks(joint + join.length), [...texts, one]);
      }
    };
    walk(0, []);
    return found.filter((texts) => texts.length <= 6);
  }

  private arrange(positions: readonly Position[], at: Moment): readonly Position[] {
    const { hold } = at.context;
    if (hold === undefined || !positions.includes(hold) || this.order === 'pressed' || this.order === 'sorted')
      return positions;
    const others = positions.filter((position) => position !== hold);
    return this.order === 'hold-first' ? [hold, ...others] : [...others, hold];
  }
}
