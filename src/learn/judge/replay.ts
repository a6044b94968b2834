import { makeLens } from '../../dialect/make-lens.ts';
import type { Context } from '../../dialect/contract.ts';
import type { DialectDocument } from '../../model/document.ts';
import { syntaxes } from '../../syntax/registry.ts';
import type { Position } from '../../vocabulary/positions.ts';
import type { DialectWritten, EntryWritten } from '../../vocabulary/shapes/dialect.ts';
import type { ControlsLearnt, LearntFile, Proposal, Series } from '../contract.ts';
import { writtenFile } from '../write/written-file.ts';
import { mergeScopes } from '../write/merge-scopes.ts';
import { holdOf, knownValues } from './known-values.ts';

/** A document of what was learnt that no file holds yet. */
function documentOf(data: DialectWritten): DialectDocument {
  const source = { name: `${data.dialect}.yaml`, text: '' };
  const place = { source, span: { start: 0, end: 0 } };
  return { source, data, place: () => place, keyPlace: () => place };
}

const ownPart = 'copies';
const ownRoot = `${ownPart}:frontend`;

/** The dialect that these proposals make, as plain data. */
function dialectData(
  name: string,
  files: readonly LearntFile[],
  controls: ControlsLearnt | undefined,
  settings: Readonly<Record<string, EntryWritten | readonly EntryWritten[]>>,
): DialectWritten {
  return {
    dialect: name,
    format: 1,
    version: '0.1.0',
    'for-versions': '>=0',
    role: 'player',
    files: Object.fromEntries(files.map((file) => [file.id, writtenFile(file)])),
    ...(controls === undefined ? {} : { controls: controls.section }),
    settings,
  };
}

/**
 * The proof of every proposal: our own lens, given the labels' values, spells into every copy what stands there already, so
 * that not one byte would change. What fails it is only possible.
 */
export function provenByReplay(
  series: readonly Series[],
  proposals: readonly Proposal[],
  controls: ControlsLearnt | undefined,
  files: readonly LearntFile[],
  hold: Position | undefined,
): readonly Proposal[] {
  const failed = new Map<Proposal, string>();
  const document = documentOf(dialectData('learnt', files, controls, mergeScopes(proposals)));
  for (const one of series) {
    const context: Context = {
      dialect: document,
      device: one.device,
      instance: 'learnt',
      root: ownRoot,
      version: undefined,
      // Where the frontend lies on the device says nothing about its spelling, and need not be known.
      parts: new Map([...one.parts, [ownPart, { name: ownPart }]]),
      controls: one.controls ?? { inputs: [], complete: false, controls: new Map() },
      numbering: undefined,
      hold: holdOf(one) ?? hold,
      catalog: one.catalog,
    };
    const lens = makeLens(context, syntaxes).value;
    const root = `${ownRoot}/`;
    for (const proposal of proposals)
      for (const { copy, value } of knownValues(one, proposal)) {
        const spelled = lens.spell(proposal.setting.id, value, proposal.scope);
        if (spelled.kind === 'cannot') {
          failed.set(proposal, spelled.why);
          continue;
        }
        for (const write of spelled.writes) {
          const path = write.path.slice(root.length);
          const source = one.copies[copy]?.texts.get(path);
          const format = files.find(({ id }) => id === write.file)?.format;
          if (source === undefined || format === undefined) continue;
          const syntax = syntaxes[format.syntax];
          const { tree } = syntax.parse(source, format.style);
          if (tree === undefined) continue;
          const { edits } = syntax.change(tree, [
            write.value === undefined
              ? { op: 'remove', path: write.key }
              : { op: 'set', path: write.key, value: write.value },
          ]);
          if (edits.length > 0)
            failed.set(proposal, `${one.copies[copy]?.name ?? 'a copy'} has another text than it foretells`);
        }
      }
  }
  return proposals.map((proposal) => {
    const why = failed.get(proposal);
    return why === undefined
      ? proposal
      : { ...proposal, grade: 'possible', evidence: [`played back, ${why}`, ...proposal.evidence] };
  });
}
