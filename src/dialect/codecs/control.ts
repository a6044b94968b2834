import type { Value } from '../../model/value.ts';
import { sameText } from '../../model/same-text.ts';
import type { Cannot, CodecKind, Moment, Slots } from './contract.ts';
import { ChordText } from './chord-text.ts';
import { ControlForms } from './control-forms.ts';
import { onlySlot, scalar } from './held.ts';
import { controlValues, holdManner, pressed } from './pressed.ts';

/**
 * One control, in the form that the dialect writes it, into the key of that form where a key map has one. With
 * `hold: each` the hold control is written with it, joined as `controls.chord` says.
 */
export const control: CodecKind<'control'> = {
  name: 'control',
  fits: ['control', 'bind'],
  make(written, site) {
    const { forms, findings } = ControlForms.read(written, site);
    if (forms === undefined) return { value: undefined, findings };
    const { controls } = site.document.data;
    const nothing = written.nothing ?? controls?.nothing;
    const chords = new ChordText(forms, controls?.chord?.join ?? '+', controls?.chord?.order ?? 'hold-first');
    /** Every way to say it, the one that is written first; none for no control. */
    const ways = (value: Value, at: Moment): readonly (Slots | Cannot)[] => {
      if (value.kind === 'none') return [];
      const manner = value.kind === 'press' ? value.while : undefined;
      const positions = pressed(value, at, false);
      if ('kind' in positions) return [positions];
      const [first, second] = positions;
      if (first === undefined) return [];
      if (second === undefined) {
        const all = forms.keyed(first, manner, at);
        if ('kind' in all) return [all];
        return all.map((one) => new Map([[forms.slot(one.form, manner), scalar(one.text)]]));
      }
      // Of several, the key is that of the control pressed with the hold, and of a chord the button's before others.
      const slots = new Set<string>();
      for (const position of positions) {
        if (position === at.context.hold) continue;
        const keyed = forms.keyed(position, manner, at);
        if ('kind' in keyed) return [keyed];
        slots.add(forms.slot(keyed[0]?.form ?? 'button', manner));
      }
      const slot = [onlySlot, 'button', 'axis', 'hat'].find((name) => slots.has(name)) ?? onlySlot;
      const text = chords.write(positions, at);
      if (text.kind === 'cannot') return [text];
      return [text, ...chords.others(positions, at)].map((one) => new Map([[slot, one]]));
    };
    return {
      value: {
        rule: {
          name: 'control',
          says: holdManner(site.document) === 'each' ? 'the hold control and the control' : 'one control',
        },
        nothing: nothing === undefined ? undefined : scalar(nothing),
        spell(value, at) {
          const [first] = ways(value, at);
          if (first === undefined) return { kind: 'exact', slots: new Map() };
          return 'why' in first ? first : { kind: 'exact', slots: first };
        },
        others: (value, at) =>
          ways(value, at)
            .slice(1)
            .flatMap((way) => ('why' in way ? [] : [way])),
        same: (held, said) => sameText(held, said) || (holdManner(site.document) === 'each' && chords.same(held, said)),
        candidates(held, at) {
          const found = [...held].flatMap(([slot, value]) => {
            if (value.kind !== 'scalar') return [];
            const single = forms.positions(value.text, slot, at).flatMap((one) => controlValues([one], at));
            if (single.length > 0 || holdManner(site.document) !== 'each') return single;
            return chords.read(value, at).flatMap((chord) => controlValues(chord, at));
          });
          return [...found, { kind: 'none' }];
        },
      },
      findings: [],
    };
  },
};
