import { expect, it } from 'vitest';
import { ini } from '../../../src/syntax/ini/ini.ts';
import { applyEdits } from '../../../src/text/text-edit.ts';

it('a removed key is gone, also where an earlier section of the same name holds it and only the last counts', () => {
  const style = { sections: 'last' } as const;
  const source = { name: 'a.ini', text: '[main]\n[main]\n# note 1!\n[main]\na=1\n[main]\na=1\n' };
  const { tree } = ini.parse(source, style);
  if (tree === undefined) throw new Error('The text is not read.');
  const changed = ini.change(tree, [{ op: 'remove', path: '[main] a' }]);
  const text = applyEdits(source.text, changed.edits);
  expect(ini.parse({ name: 'a.ini', text }, style).tree?.get('[main] a')).toBeUndefined();
});

it('an empty last section is as it was when a key was put in and taken out, also where only the last of its name counts', () => {
  const style = { sections: 'last' } as const;
  let text = '[main]\n\n[main]\n';
  for (const change of [
    { op: 'set', path: '[main] new', value: { kind: 'scalar', text: '1' } },
    { op: 'remove', path: '[main] new' },
  ] as const) {
    const { tree } = ini.parse({ name: 'a.ini', text }, style);
    if (tree === undefined) throw new Error('The text is not read.');
    text = applyEdits(text, ini.change(tree, [change]).edits);
  }
  expect(text).toBe('[main]\n\n[main]\n');
});
