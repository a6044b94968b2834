// What gets into a dialect needs to be sure, or a person's word: by answers on the terminal, or by --take.
import { describe, expect, it } from 'vitest';
import { learn } from '../../../src/learn/learn.ts';
import type { Learnt } from '../../../src/pipeline/learn-copies.ts';
import { agreeLearnt } from '../../../src/verbs/agree-learnt.ts';
import type { Standing } from '../../../src/verbs/agree-learnt.ts';

const text = 'keep-place: on\nask-first: yes\nlanguage: en\nflush: 100\n[keys]\nscreenshot: 4\npause: 5\n';
const learnt: Learnt = learn([
  {
    name: 'player',
    device: { id: 'fern', name: 'Fern' },
    copies: [{ name: 'copy', leftAlone: [], texts: new Map([['play.ini', { name: 'play.ini', text }]]) }],
    labels: [],
    parts: new Map(),
  },
]);
const none: Standing = { settings: new Set(), controls: false };

interface Talk {
  readonly taken: readonly string[];
  readonly asked: number;
  readonly unasked: number;
}

async function talk(
  answers: readonly (string | undefined)[],
  { take = [], standing = none }: { readonly take?: readonly string[]; readonly standing?: Standing } = {},
): Promise<Talk | { readonly status: number; readonly said: string }> {
  let asked = 0;
  let said = '';
  const shell = { width: 80, say: (one: string) => void (said += one), ask: () => Promise.resolve(answers[asked++]) };
  const agreed = await agreeLearnt(shell, learnt, standing, take);
  if (typeof agreed === 'number') return { status: agreed, said };
  return { taken: agreed.taken.map(({ setting }) => setting.id), asked, unasked: agreed.unasked };
}

describe('what is only likely', () => {
  const likely = ['exit.ask-first', 'saves.state-on-exit', 'menus.language'];

  it('is what this copy tells, hotkeys and a number without its unit left open', () => {
    const told = learnt.proposals.filter(({ grade, open }) => grade === 'likely' && open === undefined);
    expect(told.map(({ setting }) => setting.id)).toEqual(likely);
    const open = learnt.proposals.filter(({ open: lacking }) => lacking !== undefined);
    expect(open.map(({ setting, open: lacking }) => [setting.id, lacking])).toEqual(
      expect.arrayContaining([
        ['hotkeys.bind.screenshot', 'how controls are numbered'],
        ['saves.write-save-every', 'the unit of its number'],
      ]),
    );
  });

  it.each([
    ['yes to one, no to the others', ['n', 'y', ''], ['saves.state-on-exit'], 3, 0],
    ['all of the rest', ['n', 'a'], ['saves.state-on-exit', 'menus.language'], 2, 0],
    ['no more questions', ['y', 's'], ['exit.ask-first'], 2, 0],
    ['anything else is no', ['maybe', 'ok', 'yes'], ['menus.language'], 3, 0],
    ['nobody there: asked once, and told how many', [undefined], [], 1, 3],
  ])('is asked: %s', async (_, answers, taken, asked, unasked) => {
    expect(await talk(answers)).toEqual({ taken, asked, unasked });
  });

  it.each([
    ['likely', likely],
    ['menus.language', ['menus.language']],
  ])('is taken unasked by --take %s', async (name, taken) => {
    expect(await talk([], { take: [name] })).toEqual({ taken, asked: 0, unasked: 0 });
  });

  it('is never taken without its spelling, whoever names it', async () => {
    expect(await talk([], { take: ['saves.write-save-every'] })).toMatchObject({
      status: 2,
      said: expect.stringContaining('nothing that can be taken is proposed for it') as string,
    });
    expect(await talk([], { take: ['likely', 'no.such'] })).toMatchObject({ status: 2 });
  });

  it('is not asked where the dialect says it already', async () => {
    const standing = { settings: new Set(['exit.ask-first', 'menus.language']), controls: false };
    expect(await talk(['y'], { standing })).toEqual({ taken: ['saves.state-on-exit'], asked: 1, unasked: 0 });
  });
});
