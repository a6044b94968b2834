import { describe, expect, it } from 'vitest';
import { hostPath } from '../../../src/model/paths.ts';
import { adoptionText } from '../../../src/report/adoption-text.ts';
import { decodeBytes, encodeText } from '../../../src/text/encoding.ts';
import { adoptCard, keep, writeCard } from '../../support/adopt/adopt-world.ts';
import { demoFiles } from '../../support/demo.ts';

describe('adopting the demo', () => {
  it.each(['fen', 'tarn', 'mere'])('finds nothing to adopt on a card of %s that was just compiled', (name) => {
    const files = demoFiles();
    writeCard(files, name, true);
    const { plan, told } = adoptCard(files, name);
    expect(plan.differences.map(({ setting, instance }) => [setting, instance])).toEqual([]);
    expect(told.files).toEqual([]);
    expect(adoptionText(told)).toBe(`${name}: nothing to adopt.\n`);
  });

  it('carries changes by hand into the profile, so that compiling it changes nothing more', () => {
    const files = demoFiles();
    writeCard(files, 'fen', true);
    const change = (path: string, find: RegExp, put: string): void => {
      const at = hostPath(`/card/${path}`);
      const read = files.read(at);
      const text = read.kind === 'bytes' ? decodeBytes(read.bytes) : '';
      expect(text).toMatch(find);
      files.write(at, encodeText(text.replace(find, put)));
    };
    change('settings/hall/play.conf', /^flush: .*$/m, 'flush: 20000');
    change('settings/annex/play.conf', /^flush: .*$/m, 'flush: 20000');
    change('settings/hall/play.conf', /^keep-place: .*$/m, 'keep-place: off');
    change('settings/sedge.ini', /^zone.*$/m, 'zone = Europe/Berlin');
    const adopted = adoptCard(files, 'fen');
    expect(adopted.told.changes.map(({ setting, layer, after }) => [setting, layer, after])).toEqual([
      ['time.zone', 'fen.yaml', 'Europe/Berlin'],
      ['saves.state-on-exit', 'fen.yaml, only for frontend harrow-hall (a new block)', 'false'],
      ['saves.write-save-every', 'fen.yaml', '20 s'],
    ]);
    keep(files, adopted);
    expect(writeCard(files, 'fen')).toEqual([]);
    expect(adoptCard(files, 'fen').plan.differences).toEqual([]);
  });
});
