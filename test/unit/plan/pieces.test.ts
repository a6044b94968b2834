import { describe, expect, it } from 'vitest';
import { piecesOf } from '../../../src/4-plan/pieces-of.ts';
import { spellPieces } from '../../../src/4-plan/spell-pieces.ts';
import { compile } from '../../../src/3-compile/compile.ts';
import { hostPath } from '../../../src/model/paths.ts';
import { openProject, prepareProfile, profilePaths } from '../../../src/pipeline.ts';
import { spellSecrets } from '../../../src/pipeline/spell-secrets.ts';
import { syntaxes } from '../../../src/syntax/registry.ts';
import { makeWorld, readFolder } from '../../support/world.ts';

describe('a file that is wholly ours', () => {
  const project = openProject(makeWorld(readFolder('test/cases/secrets-written/_world'), []), hostPath('/w')).value;
  const parts = (project === undefined ? [] : profilePaths(project)).flatMap(
    ({ path }) => (project === undefined ? undefined : prepareProfile(project, path, false).parts) ?? [],
  );
  const find = (name: string): string => `a <"text"> & \\ of ${name}`;

  it('is spelled from its pieces as it is spelled from its template, keys of networks included', () => {
    const kinds = new Set<string>();
    for (const one of parts) {
      const spelled = spellSecrets(one, find).value.compiled;
      const named = compile(one.resolved, one.lenses).value;
      expect(named.wholeFiles.length).toBeGreaterThan(0);
      for (const [at, file] of named.wholeFiles.entries()) {
        const pieces = piecesOf(named, file);
        for (const { kind } of pieces) kinds.add(kind);
        expect(spellPieces(pieces, find, syntaxes)).toBe(spelled.wholeFiles[at]?.text);
        expect(spellPieces(pieces, () => undefined, syntaxes) === undefined).toBe(
          pieces.some(({ kind }) => kind !== 'text'),
        );
      }
    }
    expect([...kinds].sort()).toEqual(['psk', 'secret', 'text']);
  });

  // IEEE Std 802.11-2016, J.4.2: the first test vector.
  it('gets the key of IEEE 802.11 where a key is due', () => {
    const pieces = [{ kind: 'psk', name: 'home', network: 'IEEE' }] as const;
    expect(spellPieces(pieces, () => 'password', syntaxes)).toBe(
      'f42c6fc52df0ebef9ebb4b90b38a5f902e83fe1b135a70e23aed762e9710a12e',
    );
  });
});
