import { describe, expect, it } from 'vitest';
import { apply } from '../../../src/5-apply/apply.ts';
import type { KeyChange, Work } from '../../../src/5-apply/apply-input.ts';
import { keptTurns, Store } from '../../../src/5-apply/store.ts';
import { undo } from '../../../src/5-apply/undo.ts';
import { BreakingDisk } from '../../support/breaking-disk.ts';
import { inputAt, onCard, placeAt, sha, work } from '../../support/apply-world.ts';

function scalar(text: string): NonNullable<KeyChange['before']> {
  return { kind: 'scalar', text };
}

const file = '/media/games/play.conf';
const record = '/home/.thumbwright/cards/fen-1.yaml';

function held(disk: BreakingDisk, path: string): string | undefined {
  return disk
    .picture(path)
    .get('')
    ?.replace(/^[0-7]+ /, '');
}

const pairs: NonNullable<Work['keys']> = {
  syntax: 'pairs',
  style: { separator: ': ', comment: ';' },
  changes: [
    { key: 'soft', before: scalar('1'), after: scalar('2') },
    { key: 'wide', before: undefined, after: scalar('on') },
    { key: 'tall', before: scalar('yes'), after: undefined },
  ],
};

describe('undo', () => {
  it('takes back one write after the other, records and new folders included, and then says that there is none', () => {
    const disk = new BreakingDisk();
    disk.plant(file, 'v0');
    const states = [[...disk.picture('/media')]];
    for (let at = 1; at <= 3; at++) {
      const works = [work('games:play.conf', `v${at - 1}`, `v${at}`), work(`games:new-${at}/x`, null, 'x')];
      expect(apply(inputAt(disk, works, `record: ${at}\n`)).value).toMatchObject({ kind: 'done', number: at });
      states.push([...disk.picture('/media')]);
    }
    for (let at = 3; at >= 1; at--) {
      expect(undo(placeAt(disk)).value).toMatchObject({ kind: 'done', number: at, kept: [] });
      expect([...disk.picture('/media')]).toEqual(states[at - 1]);
      expect(held(disk, record)).toBe(at === 1 ? undefined : `record: ${at - 1}\n`);
    }
    const none = undo(placeAt(disk));
    expect(none.value).toEqual({ kind: 'nothing' });
    expect(none.findings.map(({ code }) => code)).toEqual(['nothing-to-undo']);
  });

  it('a write after an undo can be undone in turn', () => {
    const disk = new BreakingDisk();
    disk.plant(file, 'a');
    apply(inputAt(disk, [work('games:play.conf', 'a', 'b')], 'record: 1\n'));
    apply(inputAt(disk, [work('games:play.conf', 'b', 'c')], 'record: 2\n'));
    undo(placeAt(disk));
    apply(inputAt(disk, [work('games:play.conf', 'b', 'd')], 'record: 3\n'));
    expect(undo(placeAt(disk)).value).toMatchObject({ kind: 'done', number: 4 });
    expect(held(disk, file)).toBe('b');
    expect(undo(placeAt(disk)).value).toMatchObject({ kind: 'done', number: 1 });
    expect(held(disk, file)).toBe('a');
  });

  it('takes only our keys out of a file that was changed since, and names the hand change that it keeps', () => {
    const disk = new BreakingDisk();
    disk.plant(file, '; mine\nsoft: 1\ntall: yes\nloud: 3\n', 0o640);
    const wanted = '; mine\nsoft: 2\nloud: 3\nwide: on\n';
    apply(
      inputAt(
        disk,
        [work('games:play.conf', '; mine\nsoft: 1\ntall: yes\nloud: 3\n', wanted, { keys: pairs })],
        'record: 1\n',
      ),
    );
    // By hand: one key that is not ours, one that is.
    disk.plant(file, '; mine\nsoft: 7\nloud: 4\nwide: on\n', 0o640);
    const { value, findings } = undo(placeAt(disk));
    expect(value).toMatchObject({ kind: 'done', kept: [{ path: onCard('games:play.conf'), key: 'soft' }] });
    expect(findings.map(({ code, detail }) => [code, detail.includes("'soft'")])).toEqual([
      ['hand-change-stays', true],
    ]);
    const text = held(disk, file) ?? '';
    expect(
      text
        .split('\n')
        .filter((line) => line !== '')
        .sort(),
    ).toEqual(['; mine', 'loud: 4', 'soft: 7', 'tall: yes']);
    expect(disk.picture(file).get('')?.startsWith('640 ')).toBe(true);
  });

  it('a program that spells our value its own way has changed nothing', () => {
    const disk = new BreakingDisk();
    disk.plant('/media/games/menu.json', '{"a": 1, "b": 2}');
    const keys: NonNullable<Work['keys']> = {
      syntax: 'json',
      style: {},
      changes: [
        {
          key: '/a',
          before: { kind: 'scalar', text: '1', literal: true },
          after: { kind: 'scalar', text: '5', literal: true },
        },
      ],
    };
    apply(inputAt(disk, [work('games:menu.json', '{"a": 1, "b": 2}', '{"a": 5, "b": 2}', { keys })], 'record: 1\n'));
    disk.plant('/media/games/menu.json', '{\n  "a": 5,\n  "b": 3\n}\n');
    expect(undo(placeAt(disk)).value).toMatchObject({ kind: 'done', kept: [] });
    expect(held(disk, '/media/games/menu.json')).toBe('{\n  "a": 1,\n  "b": 3\n}\n');
  });

  it('a field of a record gets its old text back; one that had none stays, and is named', () => {
    const disk = new BreakingDisk();
    const before = '<games><game><path>a</path><favourite>no</favourite></game></games>';
    const after = '<games><game><path>a</path><favourite>yes</favourite><seen>1</seen></game></games>';
    disk.plant('/media/games/list.xml', before);
    const at = { at: '/games/game', by: 'path', is: 'a' };
    const keys: NonNullable<Work['keys']> = {
      syntax: 'xml',
      style: {},
      changes: [
        { key: 'favourite of a', record: { ...at, field: 'favourite' }, before: scalar('no'), after: scalar('yes') },
        { key: 'seen of a', record: { ...at, field: 'seen' }, before: undefined, after: scalar('1') },
      ],
    };
    apply(inputAt(disk, [work('games:list.xml', before, after, { keys })], 'record: 1\n'));
    disk.plant('/media/games/list.xml', after.replace('</games>', '<game><path>b</path></game></games>'));
    expect(undo(placeAt(disk)).value).toMatchObject({ kept: [{ key: 'seen of a' }] });
    expect(held(disk, '/media/games/list.xml')).toBe(
      '<games><game><path>a</path><favourite>no</favourite><seen>1</seen></game><game><path>b</path></game></games>',
    );
  });

  it('a file that is wholly ours, was changed or deleted since, or cannot be read any more stays', () => {
    const disk = new BreakingDisk();
    disk.plant('/media/games/a', 'a0');
    disk.plant('/media/games/b', 'b0');
    disk.plant('/media/games/c.json', '{}');
    const json: NonNullable<Work['keys']> = {
      syntax: 'json',
      style: {},
      changes: [{ key: '/a', before: undefined, after: scalar('x') }],
    };
    const works = [
      work('games:a', 'a0', 'a1'),
      work('games:b', 'b0', 'b1'),
      work('games:c.json', '{}', '{"a":"x"}', { keys: json }),
    ];
    apply(inputAt(disk, works, 'record: 1\n'));
    disk.plant('/media/games/a', 'by hand');
    disk.unplant('/media/games/b');
    disk.plant('/media/games/c.json', '{"a"');
    const { value } = undo(placeAt(disk));
    expect(value).toMatchObject({ kind: 'done', files: [], kept: works.map(({ path }) => ({ path })) });
    expect(held(disk, '/media/games/a')).toBe('by hand');
    expect(held(disk, '/media/games/b')).toBeUndefined();
    expect(held(disk, '/media/games/c.json')).toBe('{"a"');
  });

  it('a link that was laid since is not written through', () => {
    const disk = new BreakingDisk();
    disk.plant(file, 'a');
    apply(inputAt(disk, [work('games:play.conf', 'a', 'b')], 'record: 1\n'));
    disk.plant('/etc/play.conf', 'b');
    disk.unplant(file);
    disk.plantLink(file, '/etc/play.conf');
    expect(undo(placeAt(disk)).value).toMatchObject({ kind: 'done', files: [] });
    expect(held(disk, '/etc/play.conf')).toBe('b');
  });

  it('the part or the kept text is not there: nothing is touched, and the way on is said', () => {
    const disk = new BreakingDisk();
    disk.plant(file, 'a');
    apply(inputAt(disk, [work('games:play.conf', 'a', 'b')], 'record: 1\n'));
    const apart = undo({ ...placeAt(disk), parts: new Map() });
    expect(apart.value).toMatchObject({
      kind: 'failed',
      state: 'all-old',
      command: 'thumbwright undo fen --card games',
    });
    disk.plant(`/home/.thumbwright/private/cards/fen-1/texts/${sha('a')}.gz`, 'damaged');
    const damaged = undo(placeAt(disk));
    expect(damaged.findings.map(({ code }) => code)).toEqual(['workspace-failed']);
    expect(held(disk, file)).toBe('b');
  });
});

describe('what is kept', () => {
  it.each([false, true])(
    'the last twenty turns and the texts that they need, each text once, and what a record still needs (keyed: %s)',
    (keyed) => {
      const disk = new BreakingDisk();
      disk.plant(file, 'v0');
      const keyedHash = (bytes: Uint8Array): string => sha(`key ${Buffer.from(bytes).toString()}`);
      const needed = [{ keyed, hash: keyed ? sha('key v0') : sha('v0') }];
      for (let at = 1; at <= keptTurns + 5; at++) {
        const input = inputAt(disk, [work('games:play.conf', `v${at - 1}`, `v${at}`)], 'record: 1\n');
        const fingerprint = (bytes: Uint8Array, by: boolean): string =>
          by ? keyedHash(bytes) : input.fingerprint(bytes, false);
        expect(apply({ ...input, needed, fingerprint }).value.kind).toBe('done');
      }
      const store = new Store(disk, placeAt(disk).store);
      expect(store.numbers()).toEqual(Array.from({ length: keptTurns }, (_, at) => at + 6));
      expect(store.text(sha('v0')).kind).toBe('text');
      expect(store.text(sha('v1')).kind).toBe('failed');
      expect(store.text(sha('v5')).kind).toBe('text');
      for (let at = 0; at < keptTurns; at++) expect(undo(placeAt(disk)).value.kind).toBe('done');
      expect(held(disk, file)).toBe('v5');
      expect(undo(placeAt(disk)).value.kind).toBe('nothing');
    },
  );

  it('is for its owner only', () => {
    const disk = new BreakingDisk();
    disk.plant(file, 'a');
    apply(inputAt(disk, [work('games:play.conf', 'a', 'b')], 'record: 1\n'));
    const modes = [...disk.picture('/home/.thumbwright/private/cards/fen-1')].filter(([path]) => !path.endsWith('/'));
    expect(modes.length).toBe(3);
    for (const [path, text] of modes) expect(text.startsWith('600 '), path).toBe(true);
  });
});
