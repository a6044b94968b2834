import type { KeyRow, Proposal, SettingRow } from '../contract.ts';
import type { ControlsFound } from '../controls/learn-controls.ts';
import type { KeyTable } from '../copies/key-table.ts';
import { systemIn, withSystem } from '../copies/named-system.ts';
import type { Naming } from '../judge/proposals.ts';
import { isAboutControl } from '../../vocabulary/about-control.ts';
import { byVocabulary } from '../../vocabulary/order.ts';
import { bindEntry } from './bind-entry.ts';
import { proposeByNames } from './propose-by-names.ts';
import type { NameProposal } from './propose-by-names.ts';
import { seeKeys } from './seen-key.ts';
import type { SeenKey } from './seen-key.ts';

/** What labelled changes told, beside which names may speak. */
export interface Told {
  readonly table: KeyTable;
  readonly naming: Naming;
  /** Of every grade: what a change says of a setting goes before its name. */
  readonly proposals: readonly Proposal[];
  readonly settings: readonly SettingRow[];
  readonly controls: ControlsFound | undefined;
  /** Keys that are explained, and keys that move by themselves. */
  readonly taken: ReadonlySet<KeyRow>;
}

const at = (file: string, key: string): string => `${file}\0${key}`;
const scopeName = (id: string, system: string | undefined): string => `${id}\0${system ?? ''}`;

/** The keys of the last copies, with what stands around them. */
function seenIn({ table, naming }: Told): readonly SeenKey[] {
  return [...table.latest].flatMap(([path, { tree, called }]) => {
    const syntax = table.formats.get(path)?.syntax;
    return syntax === undefined ? [] : seeKeys({ path, syntax, tree, called, systems: naming.systems });
  });
}

/**
 * What names, values, comments and neighbours say of the keys that no labelled change explains, for settings that none
 * tells. Where a setting was changed and no key followed, names are no more than possible. Never sure.
 */
export function namedProposals(told: Told): readonly Proposal[] {
  const { table, proposals, settings, taken } = told;
  const rows = new Map(table.rows.map((row) => [at(row.file, row.key), row]));
  const settled = new Set(proposals.map(({ setting, scope }) => scopeName(setting.id, scope.system)));
  const held = new Set(
    proposals.flatMap(({ grade, keys }) => (grade === 'possible' ? [] : keys.map(({ file, key }) => at(file, key)))),
  );
  const labelled = new Set(
    settings.filter(({ changed }) => changed.size > 0).map(({ setting, scope }) => scopeName(setting.id, scope.system)),
  );
  const isKey = ({ file, key }: SeenKey): boolean => {
    const row = rows.get(at(file, key));
    return row === undefined || taken.has(row) || held.has(at(file, key));
  };
  const named = proposeByNames(seenIn(told), {
    isKey,
    isSetting: ({ id }, system) => settled.has(scopeName(id, system)),
  });
  const found = named.flatMap((one): readonly Proposal[] => {
    const own = one.keys.flatMap(({ file, key }) => rows.get(at(file, key)) ?? []);
    const proposal = proposalOf(one, own, told);
    if (proposal === undefined) return [];
    return labelled.has(scopeName(one.setting.id, one.system))
      ? [{ ...proposal, grade: 'possible', evidence: [...proposal.evidence, 'it did not follow the labelled change'] }]
      : [proposal];
  });
  return found.sort((a, b) => byVocabulary({ setting: a.setting.id }, { setting: b.setting.id }));
}

function proposalOf(one: NameProposal, own: readonly KeyRow[], told: Told): Proposal | undefined {
  const { table, naming, controls } = told;
  const [first] = own;
  const file = first === undefined ? undefined : naming.files.get(first.file);
  if (first === undefined || file === undefined) return undefined;
  const { setting, guess, system } = one;
  const key = system === undefined ? first.key : withSystem(first.key, systemIn(first.key, naming.systems));
  const bind = isAboutControl(setting) ? bindEntry(setting, own, table, controls) : undefined;
  const open = bind?.kind === 'open' ? bind.why : bind === undefined && guess.kind === 'open' ? guess.why : undefined;
  const codec = bind === undefined && guess.kind === 'codec' ? guess.codec : {};
  return {
    setting,
    scope: system === undefined ? {} : { system },
    grade: one.grade,
    entry: { file: file.id, ...(bind?.kind === 'entry' ? bind.entry : { key, ...codec }) },
    keys: (bind?.kind === 'entry' ? bind.rows : own).map((row) => ({ file: row.file, key: row.key })),
    evidence: one.evidence,
    rivals: one.rivals,
    ...(open === undefined ? {} : { open }),
  };
}
