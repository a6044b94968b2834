import type { CodecKind } from './contract.ts';
import { ChordText } from './chord-text.ts';
import { ControlForms } from './control-forms.ts';
import { sameText, scalar } from './held.ts';
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
    return {
      value: {
        rule: {
          name: 'control',
          says: holdManner(site.document) === 'each' ? 'the hold control and the control' : 'one control',
        },
        nothing: nothing === undefined ? undefined : scalar(nothing),
        spell(value, at) {
          if (value.kind === 'none') return { kind: 'exact', slots: new Map() };
          const positions = pressed(value, at, false);
          if ('kind' in positions) return positions;
          const [first] = positions;
          if (first === undefined) return { kind: 'exact', slots: new Map() };
          const last = forms.of(positions.find((position) => position !== at.context.hold) ?? first, at);
          if ('kind' in last) return last;
          const slot = forms.slot(last[0]?.form ?? 'button');
          if (positions.length === 1) return { kind: 'exact', slots: new Map([[slot, scalar(last[0]?.text ?? '')]]) };
          const text = chords.write(positions, at);
          return text.kind === 'cannot' ? text : { kind: 'exact', slots: new Map([[slot, text]]) };
        },
        others(value, at) {
          const positions = pressed(value, at, false);
          if ('kind' in positions || positions[0] === undefined) return [];
          if (positions.length > 1) {
            const last = forms.of(positions.find((position) => position !== at.context.hold) ?? positions[0], at);
            const slot = forms.slot(('kind' in last ? undefined : last[0]?.form) ?? 'button');
            return chords.others(positions, at).map((text) => new Map([[slot, text]]));
          }
          const all = forms.of(positions[0], at);
          return 'kind' in all ? [] : all.slice(1).map((one) => new Map([[forms.slot(one.form), scalar(one.text)]]));
        },
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
