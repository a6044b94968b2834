import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { nameUuid, networkUuid } from '../../../src/dialect/template/name-uuid.ts';
import { requireTool } from '../../support/tool.ts';

describe('the UUID of a name', () => {
  it('is that of the standard (RFC 9562, appendix A.4)', () => {
    expect(nameUuid('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'www.example.com')).toBe(
      '2ed6657d-e927-568b-95e1-2665a8aea6a2',
    );
  });

  it('is the same at every build, and another on another device', () => {
    expect(networkUuid('fen', 'Reading Room')).toBe(networkUuid('fen', 'Reading Room'));
    expect(networkUuid('fen', 'Reading Room')).not.toBe(networkUuid('tarn', 'Reading Room'));
  });

  it.skipIf(requireTool('python3', 'python3'))("is that of Python's uuid module, names beyond ASCII too", () => {
    const script = `import uuid, sys
space = uuid.uuid5(uuid.NAMESPACE_URL, 'thumbwright')
for name in ['Reading Room', 'Caf\\u00e9', '\\U0001f600']: print(uuid.uuid5(space, 'fen\\n' + name))`;
    expect(execFileSync('python3', ['-c', script], { encoding: 'utf8' }).trim().split('\n')).toEqual(
      ['Reading Room', 'Café', '😀'].map((name) => networkUuid('fen', name)),
    );
  });
});
