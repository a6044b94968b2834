import type { Grade, KeyRow, LearntFile, Proposal, SettingRow } from '../contract.ts';
import type { ControlClaim } from '../controls/learn-controls.ts';
import { systemIn, withSystem } from '../copies/named-system.ts';
import type { NamedSystem } from '../copies/named-system.ts';
import type { Claim } from '../labels/claims.ts';
import { heldAs } from './held-as.ts';
import type { Settled } from './settled.ts';

/** What proposals need to know of files and systems. */
export interface Naming {
  readonly files: ReadonlyMap<string, LearntFile>;
  readonly systems: readonly NamedSystem[];
}

const weaker = (a: Grade, b: Grade): Grade =>
  a === 'possible' || b === 'possible' ? 'possible' : a === 'likely' || b === 'likely' ? 'likely' : 'sure';

/** The key as the dialect writes it, with the system's name as a template's where it is in the key. */
function keyOf(row: KeyRow, setting: SettingRow, { systems }: Naming): string {
  return setting.scope.system === undefined ? row.key : withSystem(row.key, systemIn(row.key, systems));
}

function followedText({ followed, foretold }: Claim): string {
  const times = followed === 1 ? 'it followed the one labelled change' : `it followed ${followed} labelled changes`;
  return foretold === undefined || foretold === 0
    ? times
    : `${times}, and ${foretold} copies are foretold without looking at them`;
}

/** Entries of settings that are no controls. */
export function proposalOf(setting: SettingRow, settled: Settled, naming: Naming): Proposal | undefined {
  if (settled.kind === 'none') return undefined;
  const [first] = settled.claims;
  if (first === undefined) return undefined;
  const writes = settled.claims.flatMap((claim) => {
    const file = naming.files.get(claim.row.file);
    const codec = (settled.kind === 'sure' ? claim.agreed : undefined)?.codec ?? claim.fits[0]?.codec ?? {};
    if (file === undefined) return [];
    return [
      { file: file.id, key: keyOf(claim.row, setting, naming), ...codec, ...heldAs(codec, [claim.row], file.format) },
    ];
  });
  if (writes.length < settled.claims.length) return undefined;
  const open = settled.claims.flatMap(({ fits }) => (fits.length > 1 ? [fits.map(({ says }) => says)] : []));
  const agreed =
    settled.kind === 'sure' && settled.claims.every((claim) => claim.fits.length < 2 || claim.agreed !== undefined);
  return {
    setting: setting.setting,
    scope: setting.scope,
    grade: agreed ? 'sure' : 'likely',
    entry: writes.length === 1 ? { ...writes[0] } : { writes },
    keys: settled.claims.map(({ row }) => ({ file: row.file, key: row.key })),
    evidence: [
      followedText(first),
      ...settled.claims.flatMap(({ fits, agreed: seen }) => (agreed ? (seen ?? fits[0]) : fits[0])?.says ?? []),
      ...(agreed ? open.map((says) => `whether it is ${says.join(' or ')} is open`) : []),
    ],
    rivals: [
      ...(settled.kind === 'likely' ? settled.rivals : []),
      ...(agreed ? [] : open.flatMap((says) => says.slice(1))),
    ],
    ...(agreed && open.length > 0 ? { undecided: open.flat() } : {}),
  };
}

/** More candidates than these tell a person nothing. */
const mostPossible = 3;

/** Where nothing tells the keys apart that followed a setting: the likeliest by name, each for itself. */
export function possibleProposals(setting: SettingRow, claims: readonly Claim[], naming: Naming): readonly Proposal[] {
  return claims.slice(0, mostPossible).flatMap((claim): readonly Proposal[] => {
    const rivals = claims.filter((other) => other !== claim).map(({ row }) => row.key);
    const one = proposalOf(setting, { kind: 'likely', claims: [claim], rivals }, naming);
    return one === undefined ? [] : [{ ...one, grade: 'possible' }];
  });
}

/** Entries of hotkeys and other controls; sure only where the numbering is. */
export function controlProposal(claim: ControlClaim, numbering: Grade, naming: Naming): Proposal | undefined {
  const [choice, ...others] = claim.choices;
  const [row] = choice?.rows ?? [];
  const file = row === undefined ? undefined : naming.files.get(row.file);
  if (choice === undefined || row === undefined || file === undefined) return undefined;
  const { manner } = claim.setting;
  const key = typeof choice.key === 'string' ? keyOf(row, claim.setting, naming) : choice.key;
  return {
    setting: claim.setting.setting,
    scope: claim.setting.scope,
    grade: weaker(others.length === 0 ? 'sure' : 'likely', numbering),
    entry: {
      file: file.id,
      key: manner === undefined ? key : { [manner]: key },
      ...claim.codec,
      ...heldAs(claim.codec, choice.rows, file.format),
    },
    keys: choice.rows.map(({ file: path, key: own }) => ({ file: path, key: own })),
    evidence: [
      `${claim.setting.changed.size === 1 ? 'the one labelled change has' : `${claim.setting.changed.size} labelled changes have`} the texts of their controls`,
      ...(numbering === 'sure' ? [] : ['the numbering is not decided']),
    ],
    rivals: others.map(({ rows }) => rows.map((one) => one.key).join(' and ')),
  };
}
