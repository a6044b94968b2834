import type { SyntaxName } from '../../../src/syntax/contract.ts';

export const fileSyntaxes = ['pairs', 'ini', 'xml', 'json', 'toml', 'yaml', 'properties', 'lines'] as const;
export type FileSyntax = Extract<SyntaxName, (typeof fileSyntaxes)[number]>;

/** What a file of the syntax begins as: an empty one, where that is a text of it. */
export const beginnings: Readonly<Record<FileSyntax, string>> = {
  pairs: '; ours\nother: 1\n',
  ini: '# ours\n[other]\nthing=1\n',
  xml: '<?xml version="1.0"?>\n<shelf>\n  <other>1</other>\n</shelf>\n',
  json: '{\n  "other": 1\n}\n',
  toml: '# ours\nother = 1\n',
  yaml: '# ours\nother: 1\n',
  properties: '# ours\nother=1\n',
  lines: '# ours\nother=1\n',
};

/** A key in the syntax's own language. */
function keyIn(syntax: FileSyntax, name: string): string {
  switch (syntax) {
    case 'ini':
      return `[set] ${name}`;
    case 'xml':
      return `/shelf/set/${name}`;
    case 'json':
      return `/set/${name}`;
    case 'toml':
    case 'yaml':
      return `set.${name}`;
    case 'pairs':
    case 'properties':
    case 'lines':
      return name;
  }
}

/** A dialect with every codec, all in files of one syntax. */
export function testDialect(syntax: FileSyntax, hold: 'global' | 'each'): string {
  const key = (name: string): string => JSON.stringify(keyIn(syntax, name));
  const style = syntax === 'lines' ? ', style: { separator: "=" }' : '';
  const scoped = '{ instance: main, system: by-system }';
  const bind =
    hold === 'global'
      ? (name: string) => `{ file: main, key: { button: ${key(name)}, axis: ${key(`${name}-lean`)} }, control: {} }`
      : (name: string) => `{ file: main, key: ${key(name)}, chord: { join: "+" } }`;
  const fast =
    hold === 'global'
      ? bind('fast')
      : `{ file: main, key: { held: ${key('fast')}, toggled: ${key('fast-turn')} }, chord: { join: "+" } }`;
  return `dialect: tester
format: 1
version: 1.0.0
for-versions: ">=1"
role: [player, menu, system]
files:
  main: { path: "{{root}}/main.txt", syntax: ${syntax}${style} }
  by-system: { path: "{{root}}/systems/{{system.folder}}.txt", syntax: ${syntax}${style} }
controls:
  numbering: { order: sdl, version: 2.28.5, udev: true }
  prefer: [button, axis, hat]
  hold: ${hold}
  button: "{{index}}"
  axis: "axis{{axis}}.{{side}}"
  hat: "hat{{hat}}.{{direction}}"
  nothing: "-"
settings:
${hold === 'global' ? `  hotkeys.hold: { file: main, key: ${key('hold')}, control: {} }\n` : ''}  hotkeys.bind.exit-game: ${bind('leave')}
  hotkeys.bind.open-menu: ${bind('menu')}
  hotkeys.bind.save-state: ${bind('peg')}
  hotkeys.bind.fast-forward: ${fast}
  pad.south: { file: main, key: ${key('first')}, control: {} }
  saves.state-on-exit: { file: ${scoped}, key: ${key('keep')}, values: { true: ["on", "1"], false: "off" } }
  saves.resume-on-start: { file: main, key: ${key('resume')}, values: { true: "yes", false: "no" } }
  saves.write-save-every: { file: main, key: ${key('flush')}, number: { unit: ms, words: { never: "0" } } }
  saves.save-folder: { file: main, key: ${key('folder')}, path: {} }
  saves.state-slots.count: { file: main, key: ${key('slots')}, number: {} }
  saves.state-slots.order: { file: main, key: ${key('turn')}, values: { same: "stay", next: "go", ring: "round" } }
  exit.ask-first: { writes: [ { file: main, key: ${key('asks')}, values: { true: "1", false: "0" } }, { file: main, key: ${key('presses')}, values: { true: "2", false: "1" } } ] }
  display.aspect: { file: ${scoped}, key: ${key('shape')}, values: { system: "own", square: "square", full: "full" } }
  display.whole-number-scaling: { file: ${scoped}, key: ${key('steps')}, values: { true: "true", false: "false" } }
  display.filter: { file: ${scoped}, key: ${key('wash')}, text: "wash/{{value}}" }
  display.turn: { file: main, key: ${key('lean')}, values: { none: "0", right: "90", upside-down: "180", left: "270" } }
  speed.fast-forward-limit: { file: main, key: ${key('limit')}, number: { unit: x, words: { none: "0" }, step: 0.25 } }
  speed.rewind.memory: { file: main, key: ${key('room')}, number: { unit: MiB } }
  sound.latency: { file: main, key: ${key('lead')}, number: { unit: frames, rate: 60 } }
  menus.language: { file: main, key: ${key('tongue')}, text: "{{value}}" }
  menus.theme: { file: main, key: ${key('theme')}, text: "{{value}}" }
  menus.confirm: { file: main, key: ${key('yes')}, control: {} }
  menus.hidden-systems: { file: main, key: ${key('unseen')}, list: { separator: ", ", empty: "(none)" } }
  artwork.take: { file: main, members: { keys: { picture: ${key('with-picture')}, video: ${key('with-video')}, description: ${key('with-words')}, rating: ${key('with-stars')} }, on: "1", off: "0" } }
  artwork.languages: { file: main, key: ${key('tongues')}, list: { separator: "|" } }
  artwork.picture: { file: main, key: ${key('picture')}, values: { box-front: "front", title-screen: "title", in-game: "play", composite: "all" } }
  achievements.enabled: { file: main, key: ${key('ribbons')}, values: { true: "on", false: "off" } }
  achievements.password: { file: main, key: ${key('word')}, text: "{{value}}" }
  cores.choice: { file: { system: by-system }, key: ${key('engine')}, text: "{{core.id}}" }
  cores.options: { file: main, key: ${key('{{core.id}}-{{option.name}}')}, text: "{{value}}" }
`;
}
