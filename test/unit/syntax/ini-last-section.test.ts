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
