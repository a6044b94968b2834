import type { CodecsWritten } from '../../vocabulary/shapes/codecs.ts';
import type { SettingDefinition } from '../../vocabulary/types.ts';
import { assign } from './assign.ts';
import type { Assigned } from './assign.ts';
import { guessCodec } from './guess-codec.ts';
import { rankSettings } from './rank-settings.ts';
import type { SeenKey } from './seen-key.ts';

/** How one setting may be spelled, by what names and values say. Never surer than likely. */
export interface NameProposal {
  readonly setting: SettingDefinition;
  /** The one system that its file or key names. */
  readonly system: string | undefined;
  readonly grade: 'likely' | 'possible';
  /** Above 0; about 1 where the trade's very words are said and nothing else. */
  readonly score: number;
  readonly keys: readonly { readonly file: string; readonly key: string }[];
  /** Undefined where one text cannot tell how values are spelled. */
  readonly codec: CodecsWritten | undefined;
  /** Sentences, most telling first, without any value. */
  readonly evidence: readonly string[];
  readonly rivals: readonly string[];
}

function evidenceOf({ candidate: { match }, keys }: Assigned): readonly string[] {
  const [first] = keys;
  if (first === undefined) return [];
  const said = match.by.map(({ text, as }) => (as === undefined || as === text ? `'${text}'` : `'${text}' (${as})`));
  const fromComment = match.by.some((word) => first.name.comment.includes(word));
  return [
    `It says ${said.join(', ')}, as the trade says '${match.phrase.text}'.`,
    ...(match.turned ? ['Its words turn the sense round.'] : []),
    ...(first.name.byComment || fromComment ? ['The comment above it says so.'] : []),
    ...(first.name.unit === undefined ? [] : [`Its name says the unit ${first.name.unit.unit}.`]),
    ...(keys.length > 1 ? [`${keys.length} keys have the same name but for the form of the control.`] : []),
  ];
}

/**
 * Settings that the keys of one copy may say, by names, values, comments and neighbours: at most one setting a key. No
 * value is repeated in what is returned, but for the spellings of switches.
 */
export function proposeByNames(keys: readonly SeenKey[]): readonly NameProposal[] {
  const { ranked, facets } = rankSettings(keys);
  return assign(ranked, facets).map((assigned) => {
    const [first] = assigned.keys;
    const { match, score } = assigned.candidate;
    const written = first?.value.kind === 'number' && first.value.unit !== '' ? first.value.unit : undefined;
    return {
      setting: assigned.setting,
      system: assigned.system,
      grade: assigned.grade,
      score,
      keys: assigned.keys.map(({ seen: { file, key } }) => ({ file, key })),
      codec:
        first === undefined
          ? undefined
          : guessCodec(assigned.setting, first.value, match.turned, first.name.unit?.unit ?? written),
      evidence: evidenceOf(assigned),
      rivals: assigned.rivals,
    };
  });
}
