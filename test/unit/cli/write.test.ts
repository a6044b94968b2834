import Ajv2020 from 'ajv/dist/2020.js';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { inFolder, thumbwright } from '../../support/cli.ts';
import type { Ran } from '../../support/cli.ts';
import { makeCard, updateCard } from '../../support/demo-card.ts';

const ajv = new Ajv2020({ strict: true, allErrors: true, strictTypes: false, strictRequired: false });
const validators = new Map(
  ['write', 'undo', 'explain'].map((name) => [
    name,
    ajv.compile(JSON.parse(readFileSync(`schema/${name}-output.schema.json`, 'utf8')) as object),
  ]),
);

function valid(name: string, text: string): unknown {
  const validate = validators.get(name);
  const document: unknown = JSON.parse(text);
  validate?.(document);
  expect(validate?.errors ?? [], text.slice(0, 300)).toEqual([]);
  return document;
}

/** Planted: they may stand on the card and in the private folder, and nowhere else. */
const secrets = {
  THUMBWRIGHT_SECRET_READING_ROOM: 'zz-kestrel "quay" 7',
  THUMBWRIGHT_SECRET_SHELF_ACCOUNT: 'zz-account-of-reader',
  THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-wort: und #Kraut',
};

/** Every file below a folder with its text and time. */
function snapshot(folder: string): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const visit = (at: string): void => {
    for (const entry of readdirSync(at, { withFileTypes: true })) {
      const path = join(at, entry.name);
      if (entry.isDirectory()) visit(path);
      else found.set(relative(folder, path), `${statSync(path).mtimeMs}\n${readFileSync(path, 'latin1')}`);
    }
  };
  visit(folder);
  return found;
}

function texts(folder: string): ReadonlyMap<string, string> {
  return new Map([...snapshot(folder)].map(([path, text]) => [path, text.slice(text.indexOf('\n') + 1)] as const));
}

/** A workspace with the demo and Fen's card, fresh from its image, beside it. */
function withCard(work: (folder: string, card: string, run: (...args: readonly string[]) => Ran) => void): void {
  inFolder((folder) => {
    const card = join(folder, 'card');
    makeCard(card);
    work(folder, card, (...args) => thumbwright([...args, '--card', 'card'], folder, secrets));
  });
}

const yes = ['--yes', '--saves-may-move'] as const;

describe('write', () => {
  it('puts onto a card what build makes over it, with the secrets, and a second write does nothing, times included', () => {
    withCard((folder, card, run) => {
      expect(run('build', 'fen').status).toBe(0);
      const built = texts(join(folder, 'out', 'fen'));
      expect(run('write', 'fen', ...yes).status).toBe(0);
      const written = texts(card);
      for (const [path, text] of built) {
        const shown = [...Object.values(secrets)].reduce(
          (now, secret, index) =>
            now.replaceAll(secret, `<secret:${['reading-room', 'shelf-account', 'shelf-password'][index] ?? ''}>`),
          written.get(path) ?? '',
        );
        expect(shown, path).toBe(text);
      }
      const before = snapshot(folder);
      const again = run('write', 'fen', '--yes');
      expect(again.status).toBe(0);
      expect(again.out).toContain('nothing is to be written');
      expect(snapshot(folder)).toEqual(before);
    });
  });

  it('shows and writes nothing in a dry run, and says that saves are at stake before it goes on', () => {
    withCard((folder, _card, run) => {
      const before = snapshot(folder);
      const dry = run('write', 'fen', '--dry-run');
      expect(dry.status).toBe(0);
      expect(dry.out).toContain('settings:hall/play.conf');
      expect(dry.out).toContain('Saves and states are at stake');
      const stopped = run('write', 'fen', '--yes');
      expect(stopped.status).toBe(1);
      expect(stopped.said).toContain('--saves-may-move');
      expect(snapshot(folder)).toEqual(before);
    });
  });

  it('stops before anything is written when a secret is missing', () => {
    withCard((folder, card) => {
      const before = texts(card);
      const ran = thumbwright(['write', 'fen', ...yes, '--card', 'card'], folder, {
        THUMBWRIGHT_SECRET_READING_ROOM: '',
      });
      expect(ran.status).toBe(1);
      expect(ran.said).toContain('secret:reading-room');
      expect(texts(card)).toEqual(before);
    });
  });

  it('stops before anything is written when a secret would arrive as something else, in a dry run and by a plan too', () => {
    withCard((folder, card, run) => {
      const hbs = join(folder, 'profiles/dialects/harrow/begin.sh.hbs');
      // A template whose format nobody knows: a line end in a password would begin another line of the script.
      writeFileSync(hbs, `${readFileSync(hbs, 'utf8')}# {{settings.[achievements.password]}}\n`);
      const bad = { ...secrets, THUMBWRIGHT_SECRET_SHELF_PASSWORD: 'zz-bell\u0007' };
      const before = texts(card);
      for (const more of [yes, ['--dry-run'], ['--bundle', 'fen.sh', '--saves-may-move'], ['--plan', 'kept.json']]) {
        const ran = thumbwright(['write', 'fen', ...more, '--card', 'card'], folder, bad);
        expect([more, ran.status]).toEqual([more, 1]);
        expect(ran.said).toContain('secret-not-carried');
        expect(ran.said).toContain('profiles/house.yaml');
        expect(ran.out + ran.said).not.toContain('zz-bell');
      }
      expect(run('write', 'fen', '--plan', 'kept.json').status).toBe(0);
      const ran = thumbwright(['write', 'kept.json', ...yes, '--card', 'card'], folder, bad);
      expect([ran.status, ran.said]).toEqual([1, expect.stringContaining('secret-not-carried')]);
      expect(ran.out + ran.said).not.toContain('zz-bell');
      expect(texts(card)).toEqual(before);
    });
  });

  it('lets no planted secret out of the card and the private folder', () => {
    withCard((folder, _card, run) => {
      const said = [
        run('write', 'fen', '--dry-run', '--json'),
        run('write', 'fen', '--plan', 'kept.json', '--all'),
        run('write', 'fen', ...yes, '--json'),
        run('write', 'fen', '--yes', '--all'),
        run('build', 'fen'),
        run('undo', 'fen', '--yes', '--json'),
      ];
      for (const ran of said) {
        expect(ran.status).toBe(0);
        for (const secret of Object.values(secrets)) expect(ran.out + ran.said).not.toContain(secret);
      }
      for (const [path, text] of texts(folder)) {
        if (path.startsWith('card/') || path.startsWith('.thumbwright/private/')) continue;
        for (const secret of Object.values(secrets)) expect(text.includes(secret), path).toBe(false);
      }
      expect(readFileSync(join(folder, '.thumbwright/private/.gitignore'), 'utf8')).toBe('*\n');
    });
  });

  it('prints the documents that the schemas describe', () => {
    withCard((_folder, _card, run) => {
      valid('write', run('write', 'fen', '--dry-run', '--json').out);
      const wrote = valid('write', run('write', 'fen', ...yes, '--json').out);
      expect(wrote).toMatchObject({ document: 'write', device: 'fen' });
      const undone = valid('undo', run('undo', 'fen', '--yes', '--json').out);
      expect(undone).toMatchObject({ undone: { kind: 'done' } });
      expect(valid('undo', run('undo', 'fen', '--yes', '--json').out)).toMatchObject({
        undone: { kind: 'nothing' },
      });
    });
  });

  it('keeps a change made on the device, tells it, and writes over it only when told to', () => {
    withCard((_folder, card, run) => {
      run('write', 'fen', ...yes);
      const path = join(card, 'settings/hall/play.conf');
      const written = readFileSync(path, 'utf8');
      const byHand = written.replace('flush: 10000', 'flush: 30000');
      expect(byHand).not.toBe(written);
      writeFileSync(path, byHand);
      const kept = run('write', 'fen', '--yes');
      expect(kept.status).toBe(0);
      expect(kept.out).toContain('changed by hand');
      expect(readFileSync(path, 'utf8')).toBe(byHand);
      // A program that spells the number otherwise has changed nothing.
      writeFileSync(path, written.replace('flush: 10000', 'flush: 10000.0'));
      expect(run('write', 'fen', '--yes').out).not.toContain('changed by hand');
      writeFileSync(path, byHand);
      expect(run('write', 'fen', '--yes', '--take-profile').status).toBe(0);
      expect(readFileSync(path, 'utf8')).toBe(written);
    });
  });

  it('gives back what stood there before when the profile lets a setting go', () => {
    withCard((folder, card, run) => {
      const stock = readFileSync(join(card, 'settings/sedge.ini'), 'utf8');
      run('write', 'fen', ...yes);
      const house = join(folder, 'profiles/fen.yaml');
      writeFileSync(house, readFileSync(house, 'utf8').replace('host-name: fen, ', ''));
      const ran = run('write', 'fen', '--yes');
      expect(ran.status).toBe(0);
      expect(ran.out).toContain('let go');
      const line = /^called = .*$/m;
      expect(line.exec(readFileSync(join(card, 'settings/sedge.ini'), 'utf8'))?.[0]).toBe(line.exec(stock)?.[0]);
    });
  });

  it('asks which card it is when the card does not say so, and refuses the card of another device', () => {
    withCard((folder, card, run) => {
      run('write', 'fen', ...yes);
      for (const part of ['games', 'settings']) rmSync(join(card, part, 'thumbwright-card.txt'));
      const asked = run('write', 'fen', '--yes');
      expect(asked.status).toBe(1);
      expect(asked.said).toContain('--same-card');
      expect(run('write', 'fen', '--yes', '--same-card').status).toBe(0);
      expect(readdirSync(join(folder, '.thumbwright/cards'))).toHaveLength(1);
      const mark = join(card, 'games/thumbwright-card.txt');
      writeFileSync(mark, readFileSync(mark, 'utf8').replace('device: fen', 'device: tarn'));
      const refused = run('write', 'fen', '--yes');
      expect(refused.status).toBe(1);
      expect(refused.said).toContain('tarn');
    });
  });

  it('refuses a folder that holds none of the frontends', () => {
    inFolder((folder) => {
      mkdirSync(join(folder, 'card', 'settings', 'holiday'), { recursive: true });
      writeFileSync(join(folder, 'card', 'settings', 'holiday', 'beach.txt'), 'sand');
      const ran = thumbwright(['write', 'fen', ...yes, '--card', 'card'], folder, secrets);
      expect(ran.status).toBe(1);
      expect(ran.said).toContain('not-a-card');
      expect(readdirSync(join(folder, 'card', 'settings'))).toEqual(['holiday']);
    });
  });
});

describe('write, after an update', () => {
  it('stops at another version, takes it when told, carries renamed keys on, and writes again what was reset', () => {
    withCard((folder, card, run) => {
      run('write', 'fen', ...yes);
      const annex = readFileSync(join(card, 'settings/annex/play.conf'), 'utf8');
      const wifi = readFileSync(join(card, 'settings/wifi/Reading Room.nmconnection'), 'utf8');
      updateCard(card);
      const stopped = run('write', 'fen', '--yes');
      expect(stopped.status).toBe(1);
      expect(stopped.said).toContain('--accept-version');
      const ran = run('write', 'fen', '--yes', '--accept-version');
      expect(ran.status).toBe(0);
      expect(ran.out).toContain('40 were never yours');
      expect(readFileSync(join(folder, 'profiles/fen.yaml'), 'utf8')).toContain('version: 3.3.0');
      expect(readFileSync(join(card, 'settings/wifi/Reading Room.nmconnection'), 'utf8')).toBe(wifi);
      // All that the update had put back to stock is as it was written, passwords too.
      expect(readFileSync(join(card, 'settings/annex/play.conf'), 'utf8')).toBe(annex);
      const own = readFileSync(join(card, 'settings/sedge.ini'), 'utf8');
      expect(own).toContain('\ntown = Europe/Dublin\n');
      expect(own).toContain('\nflame = signals\n');
      expect(own).not.toMatch(/^(zone|wick) =/m);
    });
  });
});

describe('undo', () => {
  it('brings every byte back, and takes back only our keys where a file was changed since', () => {
    withCard((_folder, card, run) => {
      const before = texts(card);
      run('write', 'fen', ...yes);
      expect(run('undo', 'fen', '--yes').status).toBe(0);
      expect(texts(card)).toEqual(before);
      run('write', 'fen', ...yes, '--new-card');
      const path = join(card, 'settings/hall/play.conf');
      writeFileSync(path, `${readFileSync(path, 'utf8')}own-line: mine\n`);
      expect(run('undo', 'fen', '--yes').status).toBe(0);
      expect(readFileSync(path, 'utf8')).toBe(`${before.get('settings/hall/play.conf') ?? ''}own-line: mine\n`);
    });
  });
});

describe('a plan', () => {
  it('is carried out exactly, once, elsewhere too; a changed card or a changed plan is refused', () => {
    withCard((folder, card, run) => {
      const fresh = join(folder, 'fresh');
      expect(run('write', 'fen', '--plan', 'kept.json').status).toBe(0);
      cpSync(card, fresh, { recursive: true });
      run('write', 'kept.json', ...yes);
      const written = texts(card);
      const before = snapshot(card);
      expect(run('write', 'kept.json', ...yes).status).toBe(0);
      expect(snapshot(card)).toEqual(before);

      const other = join(folder, 'elsewhere');
      mkdirSync(join(other, '.thumbwright'), { recursive: true });
      cpSync(join(folder, 'kept.json'), join(other, 'kept.json'));
      const keyless = thumbwright(['write', 'kept.json', ...yes, '--card', '../fresh'], other, secrets);
      expect(keyless.status).toBe(1);
      expect(keyless.said).toContain('.thumbwright/private/key');
      mkdirSync(join(other, '.thumbwright/private'));
      cpSync(join(folder, '.thumbwright/private/key'), join(other, '.thumbwright/private/key'));
      const moved = thumbwright(['write', 'kept.json', ...yes, '--card', '../fresh'], other, secrets);
      expect(moved.said).toBe('');
      expect(moved.status).toBe(0);
      expect(texts(fresh)).toEqual(written);

      rmSync(fresh, { recursive: true });
      makeCard(fresh);
      const file = join(fresh, 'settings/sedge.ini');
      writeFileSync(file, `${readFileSync(file, 'utf8')}# a remark\n`);
      const stale = texts(fresh);
      const refused = thumbwright(['write', 'kept.json', ...yes, '--card', 'fresh'], folder, secrets);
      expect(refused.status).toBe(1);
      expect(refused.said).toContain('settings:sedge.ini is no longer as it was');
      expect(texts(fresh)).toEqual(stale);

      const document = join(folder, 'kept.json');
      writeFileSync(document, readFileSync(document, 'utf8').replace('"10000"', '"1"'));
      expect(run('write', 'kept.json', ...yes).said).toContain('bad-plan');
      expect(existsSync(join(folder, '.thumbwright/cards'))).toBe(true);
    });
  });
});

describe('explain, with a card', () => {
  it('tells whether the card has the value, and which line of the card hides it', () => {
    withCard((_folder, card, run) => {
      const path = join(card, 'settings/hall/systems/orrery.conf');
      writeFileSync(path, `${readFileSync(path, 'utf8')}keep-place: off\n`);
      const line = readFileSync(path, 'utf8').split('\n').indexOf('keep-place: off') + 1;
      const told = run('explain', 'fen', 'saves.state-on-exit', 'harrow-hall');
      expect(told.out).toContain('the card says otherwise now');
      expect(told.out).toContain(`hidden on the card by settings:hall/systems/orrery.conf:${line}:1`);
      run('write', 'fen', ...yes);
      expect(run('explain', 'fen', 'saves.state-on-exit', 'harrow-hall').out).toContain('the card has it');
      valid('explain', run('explain', 'fen', 'saves.state-on-exit', 'harrow-hall', '--json').out);
    });
  });
});
