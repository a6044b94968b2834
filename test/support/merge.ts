import { createHash, createHmac } from 'node:crypto';
import { baseOf } from '../../src/1-load/base-files.ts';

import type { CardText, MergedFiles, MergeInput } from '../../src/4-plan/merge-keys.ts';
import { writtenText } from '../../src/4-plan/written-text.ts';

import type { Edit, WholeFile } from '../../src/model/compiled.ts';
import { hostPath } from '../../src/model/paths.ts';
import type { CardPath } from '../../src/model/paths.ts';
import type { CardRecord } from '../../src/model/record.ts';
import { openProject, prepareProfile, profilePaths } from '../../src/pipeline.ts';
import type { PreparedParts } from '../../src/pipeline.ts';
import { renewTexts } from '../../src/pipeline/renew-texts.ts';
import { sameByLens } from '../../src/pipeline/same-by-lens.ts';
import { withUnlisted } from '../../src/pipeline/with-unlisted.ts';
import { syntaxes } from '../../src/syntax/registry.ts';
import type { SourceText } from '../../src/text/source-text.ts';
import type { MemoryFiles } from '../../src/files/memory.ts';

export const hash: MergeInput['hash'] = {
  plain: (text) => createHash('sha256').update(text).digest('hex'),
  keyed: (text) => createHmac('sha256', 'the key of the tests').update(text).digest('hex'),
};

/** A card as texts by path. */
export type Card = Map<CardPath, string>;

/** One profile of a workspace, prepared, with the stock files of its versions. */
export interface Prepared {
  readonly name: string;
  readonly parts: PreparedParts;
  readonly stock: MergeInput['stock'];
}

export function prepareAll(files: MemoryFiles): readonly Prepared[] {
  const project = openProject(files, hostPath('/w')).value;
  if (project === undefined) throw new Error('It is no workspace.');
  return profilePaths(project).map(({ path, name }) => {
    const { parts, findings } = prepareProfile(project, path, false);
    if (parts === undefined || findings.some(({ code }) => code === 'bad-codec' || code === 'bad-key-map'))
      throw new Error(`${name}: ${JSON.stringify(findings.map(({ detail }) => detail))}`);
    return { name, parts, stock: baseOf(files, parts.resolved, parts.dialects, undefined) };
  });
}

/** The secrets that the edits and files name, as the profile says. */
function namesIn({ decision }: Edit): readonly string[] {
  return decision?.value.kind === 'secret' ? [decision.value.name] : [];
}

function namesInFile({ decisions }: WholeFile): readonly string[] {
  return decisions.flatMap(({ value }) =>
    value.kind === 'secret'
      ? [value.name]
      : value.kind === 'networks'
        ? value.networks.flatMap(({ password }) => (password === undefined ? [] : [password]))
        : [],
  );
}

export function mergeInput(
  prepared: Prepared,
  card: Card,
  record: CardRecord | undefined,
  rest: Partial<MergeInput> = {},
): MergeInput {
  const { parts, stock } = prepared;
  const byLens = sameByLens(parts.compiled, parts.lenses);
  const standing = (path: CardPath): SourceText | undefined => {
    const text = card.get(path);
    return text === undefined ? undefined : { name: path, text };
  };
  const versions = new Map(parts.resolved.instances.map(({ name, version }) => [name, version]));
  return {
    compiled: withUnlisted(parts.compiled, parts.lenses, standing, record?.files, record),
    record,
    card: (path): CardText => {
      const text = card.get(path);
      return text === undefined ? { kind: 'absent' } : { kind: 'text', source: { name: path, text } };
    },
    stock,
    versions,
    same: byLens,
    renewed: renewTexts(parts.resolved, parts.dialects, parts.lenses, record, versions),
    secrets: { namesIn, namesInFile, find: (name) => `the text of ${name}` },
    hash,
    takeProfile: false,
    answers: new Map(),
    syntaxes,
    ...rest,
  };
}

/** The card after the plan is carried out. */
export function carryOut(
  input: MergeInput,
  { files }: MergedFiles,
  card: Card,
  kept: ReadonlyMap<string, string> = new Map(),
): Card {
  const after: Card = new Map(card);
  for (const planned of files) {
    const now = card.get(planned.path);
    if (planned.act === 'remove') after.delete(planned.path);
    if (planned.act === 'restore') {
      const { keyed, hash: wanted } = planned.backup;
      const text = [...kept.values()].find((one) => (keyed ? hash.keyed(one) : hash.plain(one)) === wanted);
      if (text === undefined) throw new Error(`No text of ${planned.path} was kept.`);
      after.set(planned.path, text);
    }
    const written = writtenText(
      planned,
      now === undefined ? undefined : { name: planned.path, text: now },
      input.secrets.find,
      input.syntaxes,
    );
    if (written.findings.length > 0) throw new Error(JSON.stringify(written.findings.map(({ detail }) => detail)));
    if (written.value !== undefined) after.set(planned.path, written.value);
  }
  return after;
}
