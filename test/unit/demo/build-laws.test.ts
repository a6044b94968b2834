import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hostPath, splitCardPath } from '../../../src/model/paths.ts';
import { openProject, runProfile } from '../../../src/pipeline.ts';
import { encodeText } from '../../../src/text/encoding.ts';
import { demoFiles, runDemo } from '../../support/demo.ts';
import type { DemoRun } from '../../support/demo.ts';
import { readFolder } from '../../support/world.ts';

function outputs(runs: readonly DemoRun[]): Map<string, string> {
  const found = new Map<string, string>();
  for (const { name, built } of runs) {
    for (const file of built.files) {
      const { part, path } = splitCardPath(file.path);
      found.set(`${name}/${part}/${path}`, file.text);
    }
  }
  return found;
}

describe('the demo', () => {
  it('is what out/ holds, file by file and byte by byte (npm run demo brings it up to date)', () => {
    const wanted = outputs(runDemo());
    const there = existsSync('out') ? readFolder('out') : {};
    expect(Object.keys(there).sort()).toEqual([...wanted.keys()].sort());
    for (const [path, text] of wanted)
      expect(Buffer.compare(Buffer.from(there[path] ?? []), encodeText(text)), path).toBe(0);
  });

  it('has nothing above a note', () => {
    const above = runDemo().flatMap(({ findings }) => findings.filter((finding) => finding.grade !== 'note'));
    expect(above.map(({ code, detail }) => `${code}: ${detail}`)).toEqual([]);
  });

  it('holds the same values in its two instances of the player, each in its own file', () => {
    const fen = runDemo().find(({ name }) => name === 'fen');
    const edits = fen?.built.compiled.edits ?? [];
    const of = (instance: string): Map<string, string> =>
      new Map(
        edits
          .filter((edit) => edit.instance === instance && edit.setting !== 'extra')
          .map((edit) => [
            `${edit.setting} ${edit.item ?? ''} ${JSON.stringify(edit.scope)} ${edit.key}`,
            JSON.stringify(edit.value),
          ]),
      );
    const hall = of('harrow-hall');
    const annex = of('harrow-annex');
    const shared = [...hall.keys()].filter((key) => annex.has(key) && !key.startsWith('cores.choice'));
    expect(shared.length).toBeGreaterThan(25);
    for (const key of shared) expect(annex.get(key), key).toBe(hall.get(key));
    // What one has alone: the option of a core that only that copy has, and a folder of its own for states.
    const alone = [...hall.keys(), ...annex.keys()].filter((key) => !(hall.has(key) && annex.has(key)));
    expect(alone.filter((key) => !/^(cores\.(choice|options)|saves\.state-folder)/.test(key))).toEqual([]);
    const paths = new Set(
      edits.filter((edit) => edit.instance.startsWith('harrow-')).map((edit) => edit.path.split('/')[0]),
    );
    expect([...paths].sort()).toEqual(['settings:annex', 'settings:hall']);
  });

  it('gives the same bytes twice', () => {
    expect(outputs(runDemo())).toEqual(outputs(runDemo()));
  });

  it('changes exactly the right key in every instance of every device when one house line changes', () => {
    const before = outputs(runDemo());
    const after = outputs(
      runDemo(
        demoFiles({
          'profiles/house.yaml': (text) => {
            expect(text).toContain('    show-frame-rate: north');
            return text.replace('    show-frame-rate: north', '    show-frame-rate: west ');
          },
        }),
      ),
    );
    expect([...after.keys()]).toEqual([...before.keys()]);
    const changed: string[] = [];
    for (const [path, text] of before) {
      const now = after.get(path) ?? '';
      if (now === text) continue;
      const a = text.split('\n');
      const b = now.split('\n');
      expect(b.length, path).toBe(a.length);
      a.forEach((line, index) => {
        if (line !== b[index]) changed.push(`${path}: ${line} -> ${b[index] ?? ''}`);
      });
    }
    // Fen's west and north are wired crosswise, so that its numbers go the other way. Withy names buttons by the W3C
    // standard gamepad (w3c/gamepad, Remapping), in which north is 3 and west is 2.
    expect(changed.sort()).toEqual([
      'fen/settings/annex/keys.conf: pull-beat: 3 -> pull-beat: 2',
      'fen/settings/hall/keys.conf: pull-beat: 3 -> pull-beat: 2',
      'mere/settings/hall/keys.conf: pull-beat: 2 -> pull-beat: 3',
      'tarn/settings/hall/keys.conf: pull-beat: 2 -> pull-beat: 3',
      'tarn/settings/withy/weave.toml: count = "b16&b3" -> count = "b16&b2"',
    ]);
  });

  it('keeps the spelling of a value that a file holds already', () => {
    const stock = 'profiles/dialects/harrow/stock/2.1.4/play.conf';
    const runs = runDemo(
      demoFiles({
        [stock]: (text) => text.replace('keep-place: off', 'keep-place: 1').replace('flush: 0', 'flush:  10000'),
      }),
    );
    const text = outputs(runs).get('fen/settings/hall/play.conf') ?? '';
    // `on` and `1` are one value to the dialect, and so are 10000 and 10000 behind two blanks.
    expect(text).toContain('keep-place: 1\n');
    expect(text).toContain('flush:  10000\n');
  });

  it('changes no byte when it compiles over what it has compiled', () => {
    const first = outputs(runDemo());
    const card: Record<string, string> = {};
    for (const [path, text] of first)
      if (path.startsWith('tarn/')) card[`/w/card/${path.slice('tarn/'.length)}`] = text;
    const files = demoFiles();
    for (const [path, text] of Object.entries(card)) files.write(hostPath(path), encodeText(text));
    const project = openProject(files, hostPath('/w')).value;
    expect(project).toBeDefined();
    if (project === undefined) return;
    const again = runProfile(project, hostPath('/w/profiles/tarn.yaml'), {
      card: { whole: hostPath('/w/card'), parts: new Map() },
      newest: false,
    });
    const built = again.built?.files ?? [];
    expect(built.length).toBe(Object.keys(card).length);
    for (const file of built) {
      const { part, path } = splitCardPath(file.path);
      expect(file.text, file.path).toBe(card[`/w/card/${part}/${path}`]);
      expect(file.keys.filter((key) => key.changed)).toEqual([]);
    }
  });

  it('lets no secret, password or path of the machine into its output', () => {
    for (const [path, text] of outputs(runDemo())) {
      expect(text, path).not.toContain(process.cwd());
      for (const match of text.matchAll(/secret:([a-z-]+)/g))
        expect(text.slice((match.index ?? 0) - 1, match.index)).toBe('<');
    }
    expect(readFileSync('profiles/house.yaml', 'utf8')).toContain('secret:shelf-password');
  });
});
