import type { ControlsWritten } from '../../vocabulary/shapes/dialect.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { SyntaxValue } from '../../syntax/contract.ts';
import type { ControlForms } from './control-forms.ts';
import type { Cannot, Moment } from './contract.ts';

export type ChordOrder = NonNullable<NonNullable<ControlsWritten['chord']>['order']>;

/** Digits by their amount, so that 10 comes after 9. */
function inOrder(a: string, b: string): number {
  return a.length === b.length || !/^[0-9]+$/.test(a + b) ? (a < b ? -1 : a > b ? 1 : 0) : a.length - b.length;
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

  /** The same chord with some controls in another form of theirs. */
  others(positions: readonly Position[], at: Moment): readonly SyntaxValue[] {
    let ways: readonly (readonly string[])[] = [[]];
    for (const position of this.arrange(positions, at)) {
      const forms = this.forms.of(position, at);
      if ('kind' in forms) return [];
      ways = ways.flatMap((way) => forms.map((form) => [...way, form.text])).slice(0, 64);
    }
    return ways.slice(1).map((way) => this.put([...way]));
  }

  private put(texts: string[]): SyntaxValue {
    if (this.order === 'sorted') texts.sort(inOrder);
    return this.join === undefined
      ? { kind: 'list', items: texts.map((text) => ({ text })) }
      : { kind: 'scalar', text: texts.join(this.join) };
  }

  /** Every chord that the value may be: a text may name several controls. */
  read(held: SyntaxValue, at: Moment): readonly (readonly Position[])[] {
    const texts = this.textsOf(held);
    const named = texts.map((text) => this.forms.positions(text, undefined, at).slice(0, 4));
    if (named.length === 0 || named.length > 6) return [];
    let chords: readonly (readonly Position[])[] = [[]];
    for (const positions of named)
      chords = chords.flatMap((chord) => positions.map((position) => [...chord, position]));
    return chords.filter((chord) => new Set(chord).size === chord.length);
  }

  /** The same texts, in an order that means the same. */
  same(held: SyntaxValue, said: SyntaxValue): boolean {
    const [a, b] = [this.textsOf(held), this.textsOf(said)];
    if (a.length !== b.length) return false;
    if (this.order !== 'pressed') {
      a.sort();
      b.sort();
    }
    return a.every((text, at) => text === b[at]);
  }

  private textsOf(held: SyntaxValue): string[] {
    if (held.kind === 'list') return this.join === undefined ? held.items.map((item) => item.text) : [];
    if (this.join === undefined) return [];
    const trimmed = this.join.trim();
    return trimmed === '' ? held.text.split(this.join) : held.text.split(trimmed).map((text) => text.trim());
  }

  private arrange(positions: readonly Position[], at: Moment): readonly Position[] {
    const { hold } = at.context;
    if (hold === undefined || !positions.includes(hold) || this.order === 'pressed' || this.order === 'sorted')
      return positions;
    const others = positions.filter((position) => position !== hold);
    return this.order === 'hold-first' ? [hold, ...others] : [...others, hold];
  }
}
