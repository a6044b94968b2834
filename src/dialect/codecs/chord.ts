import { makeFinding } from '../../diagnostics/make-finding.ts';
import { sameText } from '../../model/same-text.ts';
import type { CodecKind } from './contract.ts';
import { ChordText } from './chord-text.ts';
import { ControlForms } from './control-forms.ts';
import { onlySlot, scalar } from './held.ts';
import { controlValues, pressed } from './pressed.ts';

/** Several controls in one value. */
export const chord: CodecKind<'chord'> = {
  name: 'chord',
  fits: ['control', 'bind'],
  make(written, site) {
    const { forms, findings: faults } = ControlForms.read({}, site);
    const findings = [...faults];
    const { controls } = site.document.data;
    const join = written.join ?? controls?.chord?.join;
    if (join === '') {
      findings.push(
        makeFinding('bad-codec', {
          place: site.place,
          setting: site.setting.id,
          detail: 'With nothing between them the controls of a chord run together and cannot be read back.',
          wayOut: 'Write what joins them, as in chord: { join: "+" }; leave join out for a list of the file format.',
        }),
      );
    }
    if (forms === undefined || findings.length > 0) return { value: undefined, findings };
    const nothing = written.nothing ?? controls?.nothing;
    const texts = new ChordText(forms, join, written.order ?? controls?.chord?.order ?? 'pressed');
    return {
      value: {
        rule: {
          name: 'chord',
          says: join === undefined ? 'a list of controls' : `controls joined by ${JSON.stringify(join)}`,
        },
        nothing: nothing === undefined ? undefined : scalar(nothing),
        spell(value, at) {
          if (value.kind === 'none') return { kind: 'exact', slots: new Map() };
          const positions = pressed(value, at, true);
          if ('kind' in positions) return positions;
          const text = texts.write(positions, at);
          return text.kind === 'cannot' ? text : { kind: 'exact', slots: new Map([[onlySlot, text]]) };
        },
        others(value, at) {
          const positions = pressed(value, at, true);
          return 'kind' in positions ? [] : texts.others(positions, at).map((text) => new Map([[onlySlot, text]]));
        },
        same: (held, said) => sameText(held, said) || texts.same(held, said),
        candidates(held, at) {
          const value = held.get(onlySlot);
          const found =
            value === undefined ? [] : texts.read(value, at).flatMap((positions) => controlValues(positions, at));
          return [...found, { kind: 'none' }];
        },
      },
      findings: [],
    };
  },
};
