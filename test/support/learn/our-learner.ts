import { parse } from 'yaml';
import { readCapture } from '../../../src/controls/capture/read-capture.ts';
import { readControls } from '../../../src/controls/read-controls.ts';
import type { Label as OurLabel, Series } from '../../../src/learn/contract.ts';
import { learn } from '../../../src/learn/learn.ts';
import type { CatalogWritten } from '../../../src/vocabulary/shapes/catalog.ts';
import { settingById } from '../../../src/vocabulary/registry.ts';
import { decodeBytes } from '../../../src/text/encoding.ts';
import { valueFromText } from '../dialect/value-text.ts';
import { readFileSync } from 'node:fs';
import type { Label } from './corpus-entry.ts';
import type { Learner, LearnerInput } from './learner.ts';

interface ProfileFile {
  readonly profile: string;
  readonly name: string;
  readonly device: {
    readonly controls: Parameters<typeof readControls>[0];
    readonly parts: Readonly<Record<string, { readonly 'mounted-at'?: string }>>;
  };
}

function ourLabel(copy: number, told: OurLabel['told'], { set, to, system, while: manner }: Label): OurLabel {
  const setting = settingById(set);
  if (setting === undefined) throw new Error(`no setting: ${set}`);
  const value = valueFromText(set, to);
  const held = value.kind === 'press' && setting.type.kind === 'bind' && setting.type.whiles;
  return {
    copy,
    setting,
    value: held ? { ...value, while: manner ?? 'held' } : value,
    scope: system === undefined ? {} : { system },
    told,
    ...(manner === undefined ? {} : { manner }),
  };
}

/** What `learn` gets of a corpus entry: its copies, labels, and the device that they come from. */
export function seriesOf({ frontend, copies, labels, stands, profile, capture }: LearnerInput): Series {
  const written = parse(profile) as ProfileFile;
  const source = { name: 'capture.txt', text: capture };
  const place = { source, span: { start: 0, end: 0 } };
  const controls = readControls(
    written.device.controls,
    { place: () => place, keyPlace: () => place },
    readCapture(source).value,
  ).value;
  return {
    name: frontend,
    device: { id: written.profile, name: written.name },
    copies: copies.map(({ name, files }) => ({
      name,
      texts: new Map([...files].map(([path, bytes]) => [path, { name: `${name}/${path}`, text: decodeBytes(bytes) }])),
      leftAlone: [],
    })),
    labels: [
      ...stands.map((label) => ourLabel(0, 'stands', label)),
      ...copies.flatMap(({ name }, copy) => (labels.get(name) ?? []).map((label) => ourLabel(copy, 'changed', label))),
    ],
    parts: new Map(
      Object.entries(written.device.parts).map(([name, part]) => [
        name,
        { name, ...(part['mounted-at'] === undefined ? {} : { mountedAt: part['mounted-at'] }) },
      ]),
    ),
    controls,
    catalog: parse(readFileSync('profiles/catalogs/shelf.yaml', 'utf8')) as CatalogWritten,
  };
}

/** The learner of src/learn as the figures want it. */
export const ourLearner: Learner = (input) => {
  const { proposals, controls } = learn([seriesOf(input)]);
  const written = controls?.section.numbering;
  return {
    proposals: proposals.flatMap(({ setting, scope, keys, grade }) =>
      keys.map(({ file, key }) => ({
        setting: setting.id,
        file,
        key,
        grade,
        ...(scope.system === undefined ? {} : { system: scope.system }),
      })),
    ),
    numbering: controls?.grade === 'sure' ? (typeof written === 'object' ? written.order : written) : undefined,
  };
};
