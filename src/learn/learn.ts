import { makeFinding } from '../diagnostics/make-finding.ts';
import type { Finding } from '../diagnostics/finding.ts';
import { isAboutControl } from '../vocabulary/about-control.ts';
import type { KeyRow, Learnt, Proposal, Question, Series, SettingRow } from './contract.ts';
import { firstControlQuestion } from './controls/deciding-question.ts';
import { learnControls } from './controls/learn-controls.ts';
import { standingControls } from './controls/standing-controls.ts';
import { makeKeyTable } from './copies/key-table.ts';
import type { KeyTable } from './copies/key-table.ts';
import { systemIn, systemTexts } from './copies/named-system.ts';
import { strangeCopies } from './copies/strange-copies.ts';
import type { NamedSystem } from './copies/named-system.ts';
import { fileIds } from './judge/file-ids.ts';
import { heldAs } from './judge/held-as.ts';
import { openQuestions } from './judge/open-questions.ts';
import { controlProposal, possibleProposals, proposalOf } from './judge/proposals.ts';
import type { Naming } from './judge/proposals.ts';
import { readBack } from './judge/read-back.ts';
import { provenByReplay } from './judge/replay.ts';
import { setMembers } from './judge/set-members.ts';
import { settleClaims } from './judge/settle-claims.ts';
import { claimsOf } from './labels/claims.ts';
import type { Claim } from './labels/claims.ts';
import { idleObservations, moves, noiseOf, varies } from './labels/noise.ts';
import { rowName, settingRows } from './labels/setting-rows.ts';
import { namedProposals } from './names/named-proposals.ts';

/** Where keys of hotkeys are told by name alone: the one change that tells how controls are numbered. */
function firstQuestions(table: KeyTable, open: readonly Proposal[]): readonly Question[] {
  const binds = open.filter(({ setting }) => isAboutControl(setting)).map(({ setting }) => setting.id);
  const question = binds.length === 0 ? undefined : firstControlQuestion(table, new Set(binds));
  return question === undefined ? [] : [{ ...question, settles: ['controls', ...binds] }];
}

/** Keys in which a setting of this scope can lie: one system's in files or keys that name it, all others elsewhere. */
function inScope(row: KeyRow, { scope }: SettingRow, systems: readonly NamedSystem[]): boolean {
  const named = systemIn(row.file, systems) ?? systemIn(row.key, systems);
  return named?.system === scope.system;
}

/**
 * A dialect from copies of a frontend's folder and labelled changes between them. Every key is lined up through all copies;
 * keys that move by themselves fall out; each setting claims the keys that followed it, each with the codecs that give every
 * copy its very text; what is left without a rival is sure. At last the whole is replayed by the dialect's own lens.
 * Findings: `labels-contradict`, `change-changed-nothing`, `copies-of-two-frontends`.
 */
export function learn(series: readonly Series[]): Learnt {
  const table = makeKeyTable(series);
  const { value: settings, findings } = settingRows(series, table.observations);
  const systems = systemTexts(series[0]?.catalog);
  const naming: Naming = { files: fileIds(table.formats, systems), systems };
  const idle = idleObservations(table);
  const noise = noiseOf(table, idle);
  const moving = table.rows.filter((row) => !noise.has(row) && varies(table, row));

  const onControls = settings.filter(({ setting }) => isAboutControl(setting));
  const controls = learnControls(table, onControls, moving);
  const proposals: Proposal[] = [];
  const explained = new Set<KeyRow>();
  const unlearnt: { setting: SettingRow['setting']; scope: SettingRow['scope']; why: string }[] = [];
  const give = (setting: SettingRow, proposal: Proposal | undefined, rows: readonly KeyRow[], why: string): void => {
    if (proposal === undefined) unlearnt.push({ setting: setting.setting, scope: setting.scope, why });
    else {
      proposals.push(proposal);
      for (const row of rows) explained.add(row);
    }
  };
  for (const claim of controls?.claims ?? [])
    give(
      claim.setting,
      controlProposal(claim, controls?.learnt.grade ?? 'likely', naming),
      claim.choices[0]?.rows ?? [],
      'no key held its control in every copy',
    );

  const rest = settings.filter((setting) => !isAboutControl(setting.setting) && setting.changed.size > 0);
  const free = moving.filter((row) => !explained.has(row));
  const sets = new Set<SettingRow>();
  for (const setting of rest) {
    const members = setMembers(
      table,
      setting,
      free.filter((row) => inScope(row, setting, systems)),
      idle,
    );
    if (members === undefined) continue;
    give(setting, membersProposal(setting, members, naming), members.rows, '');
    sets.add(setting);
  }
  const claims = new Map<SettingRow, readonly Claim[]>();
  for (const setting of rest.filter((one) => !sets.has(one)))
    claims.set(
      setting,
      claimsOf(
        table,
        setting,
        free.filter((row) => !explained.has(row) && inScope(row, setting, systems)),
        idle,
      ),
    );
  const possible: Proposal[] = [];
  for (const [setting, settled] of settleClaims(claims)) {
    if (settled.kind === 'none') possible.push(...possibleProposals(setting, settled.claims, naming));
    const rows = settled.kind === 'none' ? [] : settled.claims.map(({ row }) => row);
    give(setting, proposalOf(setting, settled, naming), rows, settled.kind === 'none' ? settled.why : '');
  }
  proposals.push(...standingControls(table, onControls, controls, naming, explained));
  const parts = {
    proposals,
    controls: controls?.learnt,
    files: [...new Set(naming.files.values())],
    hold: controls?.hold,
  };
  const proven = provenByReplay(table, series, parts);
  const byNames = namedProposals({
    table,
    naming,
    settings,
    controls,
    proposals: [...proven, ...possible],
    taken: new Set([...explained, ...noise.keys()]),
  });
  const named = readBack(table, byNames, { ...parts, proposals: [...proven, ...byNames] });
  const open = named.filter((proposal) => proposal.grade === 'likely' && proposal.open !== undefined);
  return {
    files: parts.files,
    controls: controls?.learnt,
    proposals: [...proven, ...named, ...possible],
    noise: [...noise].map(([{ file, key }, why]) => ({ file, key, why })),
    unexplained: moving.filter((row) => !explained.has(row)).map(({ file, key }) => ({ file, key })),
    leftAlone: table.leftAlone,
    unlearnt,
    questions: [
      ...(controls?.questions ?? firstQuestions(table, open)),
      ...openQuestions([
        ...proven.filter(({ grade, undecided }) => grade !== 'sure' || undecided !== undefined).map(rowName),
        ...open.filter(({ setting }) => controls !== undefined || !isAboutControl(setting)).map(rowName),
        ...unlearnt.map((one) => rowName(one)),
      ]),
    ],
    findings: [...findings, ...idleChanges(table, settings, noise), ...strangeCopies(series, table)],
  };
}

function membersProposal(
  setting: SettingRow,
  members: NonNullable<ReturnType<typeof setMembers>>,
  { files }: Naming,
): Proposal | undefined {
  const file = files.get(members.rows[0]?.file ?? '');
  if (file === undefined) return undefined;
  return {
    setting: setting.setting,
    scope: setting.scope,
    grade: members.byName.length === 0 ? 'sure' : 'likely',
    entry: { file: file.id, ...members.codec, ...heldAs(members.codec, members.rows, file.format) },
    keys: members.rows.map(({ file: path, key }) => ({ file: path, key })),
    evidence: ['each switch followed one word of the set'],
    rivals: members.byName.map((word) => `other keys moved with ${word}`),
  };
}

/** Copies that were taken after a change and are as the copy before, but for what moves by itself. */
function idleChanges(
  table: KeyTable,
  settings: readonly SettingRow[],
  noise: ReadonlyMap<KeyRow, string>,
): readonly Finding[] {
  return table.observations.flatMap(({ series, copy }, at) => {
    const changed = settings.filter((setting) => setting.changed.has(at));
    const own = table.rows.filter((row) => moves(table, row, at));
    if (changed.length === 0 || copy === 0 || own.some((row) => !noise.has(row))) return [];
    return [
      makeFinding('change-changed-nothing', {
        detail: `${changed.map(rowName).join(', ')} was changed before ${series.copies[copy]?.name ?? 'a copy'}, and ${own.length === 0 ? 'no key of any file is otherwise than before it' : 'nothing but what moves by itself is otherwise than before it'}.`,
        wayOut: 'Leave the program by its own menu, since many write only then, and copy again.',
      }),
    ];
  });
}
