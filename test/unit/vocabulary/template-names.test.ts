import { expect, test } from 'vitest';
import { controlNames, eachPathNames, pathNames, saveNames } from '../../../src/dialect/template/names.ts';
import { templateNames } from '../../../src/vocabulary/template-names.ts';

const { common, item, control, saves } = templateNames;

test('the schema prints the names that templates may hold', () => {
  expect([...pathNames.values]).toEqual([...common]);
  expect([...eachPathNames.values]).toEqual([...common, ...item]);
  expect([...controlNames.values]).toEqual([...control]);
  expect([...saveNames.values]).toEqual([...common, ...saves]);
});
