import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPlan } from '../../../src/1-load/read-plan.ts';
import { sealedText, sealOf, sealPlan } from '../../../src/4-plan/seal-plan.ts';
import type { Plan } from '../../../src/model/plan.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { anyPlan } from '../../support/any-plan.ts';

const numRuns = Number(process.env['THUMBWRIGHT_RUNS'] ?? 300);

function read(text: string): ReturnType<typeof readPlan> {
  return readPlan({ name: 'fen.plan', text });
}

describe('a sealed plan', () => {
  it('is read back as it was sealed, through the bytes of a file, however it is laid out', () => {
    fc.assert(
      fc.property(anyPlan, (plan) => {
        const text = decodeBytes(encodeText(sealPlan(plan)));
        for (const laidOut of [text, JSON.stringify(JSON.parse(text)), `\n${text}  `]) {
          const { value, findings } = read(laidOut);
          expect(findings).toEqual([]);
          expect(value).toEqual(plan);
        }
      }),
      { numRuns },
    );
  });

  it('that was cut or changed anywhere is refused, and never throws', () => {
    fc.assert(
      fc.property(anyPlan, fc.nat(), fc.constantFrom('', '0', 'x', '"', '\u0000'), (plan, at, put) => {
        const text = JSON.stringify(JSON.parse(sealPlan(plan)));
        const cut = at % text.length;
        expect(read(text.slice(0, cut)).findings.map(({ code }) => code)).toEqual(['bad-plan']);
        const changed = text.slice(0, cut) + put + text.slice(cut + 1);
        const { value, findings } = read(changed);
        // An escape may be spelled in two ways; a text that says the same is the same plan.
        if (value === undefined) expect(findings.map(({ code }) => code)).toEqual(['bad-plan']);
        else expect(value).toEqual(plan);
      }),
      { numRuns },
    );
  });

  it('that was sealed again after a change is refused where its shape is not a plan’s', () => {
    const plan: Plan = {
      device: 'fen',
      card: 'card',
      parts: [],
      files: [],
      saveRisks: [],
      record: { card: 'card', device: 'fen', state: 'written', instances: new Map(), files: [] },
    };
    const resealed = (change: Record<string, unknown>): string => {
      const content = { ...(JSON.parse(sealedText(plan)) as Record<string, unknown>), ...change };
      return JSON.stringify({ plan: 'thumbwright', format: 1, seal: sealOf(content), content });
    };
    expect(read(resealed({})).value).toEqual(plan);
    for (const change of [
      { device: 7 },
      { card: undefined },
      { run: 'a command' },
      { files: {} },
      { parts: [{ name: 'games', mark: 'yes' }] },
      { files: [{ path: 'games:../outside', instances: [], keys: [], act: 'remove' }] },
      { files: [{ path: '/etc/passwd', instances: [], keys: [], act: 'remove' }] },
      { files: [{ path: 'games:a', instances: [], keys: [], act: 'run' }] },
      { record: { card: 'card', device: 'fen', state: 'burnt', instances: [], files: [] } },
      { record: { card: 'card', device: 'fen', state: 'written', instances: [['a']], files: [] } },
    ])
      expect(
        read(resealed(change)).findings.map(({ code }) => code),
        JSON.stringify(change),
      ).toEqual(['bad-plan']);
  });

  // RFC 8785, section 3.2.3: members sorted by UTF-16 code units (the example of the standard; from memory, without its number).
  it('is sealed over the canonical text of RFC 8785', () => {
    const content = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    expect(sealedText(content)).toBe(
      '{"\\r":"Carriage Return","\u0080":"Control","ö":"Latin Small Letter O With Diaeresis","€":"Euro Sign","😀":"Emoji: Grinning Face","\ufb33":"Hebrew Letter Dalet With Dagesh"}',
    );
    expect(sealOf(content)).toBe(createHash('sha256').update(sealedText(content)).digest('hex'));
  });
});
