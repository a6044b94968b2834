import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { readFolder } from '../world.ts';
import type { CorpusCopy, CorpusEntry, CorpusPart, KeyOfFile, Label, TellableSetting } from './corpus-entry.ts';

const folder = 'test/support/learn-corpus';

interface CorpusFile {
  readonly tuning: Readonly<Record<string, string>>;
  readonly 'held-out': Readonly<Record<string, string>>;
}
interface LabelsFile {
  readonly stands?: readonly Label[];
  readonly copies: Readonly<Record<string, readonly Label[]>>;
}
interface NoiseFile {
  readonly noise: readonly KeyOfFile[];
  readonly 'look-alikes': readonly KeyOfFile[];
}

function read(...path: readonly string[]): string {
  return readFileSync(join(folder, ...path), 'utf8');
}

function copiesOf(name: string): readonly CorpusCopy[] {
  const at = join(folder, name, 'copies');
  const names = readdirSync(at).sort((a, b) => Number.parseInt(a, 10) - Number.parseInt(b, 10));
  return names.map((copy) => ({ name: copy, files: new Map(Object.entries(readFolder(join(at, copy)))) }));
}

function entryOf(name: string, part: CorpusPart): CorpusEntry {
  const labels = parse(read(name, 'labels.yaml')) as LabelsFile;
  const noise = parse(read(name, 'noise.yaml')) as NoiseFile;
  const tell = parse(read(name, 'names-can-tell.yaml')) as { readonly settings: readonly TellableSetting[] };
  return {
    name,
    part,
    copies: copiesOf(name),
    labels: new Map(Object.entries(labels.copies)),
    stands: labels.stands ?? [],
    noise: noise.noise,
    lookAlikes: noise['look-alikes'],
    canTell: tell.settings,
    truth: read(name, 'truth.yaml'),
    profile: read(name, 'device', 'profile.yaml'),
    capture: read(name, 'device', 'capture.txt'),
  };
}

/** The folders of the corpus, whether or not `corpus.yaml` names them. */
export function corpusFolders(): readonly string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => (entry.isDirectory() ? [entry.name] : []));
}

/** The frontends of one part, in the order of `corpus.yaml`. */
export function readCorpus(part: CorpusPart): readonly CorpusEntry[] {
  const corpus = parse(read('corpus.yaml')) as CorpusFile;
  return Object.keys(corpus[part]).map((name) => entryOf(name, part));
}
