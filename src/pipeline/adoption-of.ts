import type { AdoptPlan } from '../adopt/adopt.ts';
import { valueAt } from '../model/value-at.ts';
import { hostOf } from '../pipeline.ts';
import type { Project } from '../pipeline.ts';
import type { Adoption, AdoptionLayer, SettingPlace } from '../model/adoption.ts';
import type { LayerDocument, Path } from '../model/document.ts';
import { lineColumn } from '../text/line-index.ts';

type Adopted = AdoptPlan['adopted'][number];
type Layer = Pick<Adopted, 'site' | 'value' | 'others' | 'shared'>;

/** A plan as it is told: files, lines, YAML before and after, never a secret's text but for the private file. */
export function adoptionOf(project: Project, profile: string, plan: AdoptPlan): Adoption {
  return {
    profile,
    changes: plan.adopted.map((adopted) => {
      const { wanted } = adopted;
      return {
        ...layerOf(adopted),
        setting: wanted.setting,
        ...(wanted.item === undefined ? {} : { item: wanted.item }),
        places: wanted.targets.map(placeOf),
        line: lineOf(adopted, plan.layers),
        extra:
          wanted.to.kind === 'raw'
            ? wanted.targets.flatMap(({ instance, onCard }) =>
                onCard.kind === 'unreadable' ? onCard.keys.map((key) => ({ instance, ...key })) : [],
              )
            : [],
        alternatives: adopted.alternatives.map(layerOf),
      };
    }),
    left: plan.left.map(({ difference, why, wayOut }) => ({
      ...placeOf(difference),
      why,
      wayOut,
      set: difference.decision !== undefined,
    })),
    missing: plan.missing.map(placeOf),
    remaining: plan.remaining.map(placeOf),
    unread: plan.unread,
    files: [...plan.texts.values()].flatMap(({ source, text }) => {
      const path = hostOf(project, source);
      return path === undefined ? [] : [{ path, name: source.name, text }];
    }),
    secrets: plan.secretsFound,
  };
}

function placeOf({ setting, item, instance, scope }: SettingPlace): SettingPlace {
  return { setting, ...(item === undefined ? {} : { item }), instance, scope };
}

function layerOf({ site, value, others, shared }: Layer): AdoptionLayer {
  return {
    layer: site.layer,
    file: site.document.source.name,
    before: site.written === undefined ? undefined : inlineYaml(site.written),
    after: value === undefined ? undefined : inlineYaml(value),
    others: others.map((other) => ({ ...placeOf(other), agrees: other.agrees })),
    profiles: shared,
  };
}

/** Where the value stands in the new text. */
function lineOf({ site, value }: Adopted, layers: readonly LayerDocument[]): number | undefined {
  if (value === undefined) return undefined;
  const document = layers.find(({ source }) => source.name === site.document.source.name);
  if (document === undefined) return undefined;
  const path = site.kind === 'new-block' ? blockPath(site, document) : site.path;
  return lineColumn(document.source, document.keyPlace(path).span.start).line;
}

function blockPath({ path, selectors }: Adopted['site'], document: LayerDocument): Path {
  const list = (given: unknown): string => JSON.stringify(typeof given === 'string' ? [given] : given);
  const index = (document.data.only ?? []).findLastIndex(
    (block, k) =>
      (['frontend', 'core', 'system', 'game'] as const).every(
        (name) => list(block.for[name]) === list(selectors?.[name]),
      ) && valueAt(document.data, ['only', k, ...path]) !== undefined,
  );
  return ['only', index, ...path];
}

/** In flow style, on one line: for people; quotes where a scalar would not be read as itself. */
export function inlineYaml(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inlineYaml).join(', ')}]`;
  if (typeof value === 'object' && value !== null)
    return `{ ${Object.entries(value)
      .map(([name, member]) => `${name}: ${inlineYaml(member)}`)
      .join(', ')} }`;
  if (typeof value !== 'string') return String(value);
  return /^[\p{L}\d][\p{L}\d .%/_:+-]*$/u.test(value) && !/: |^(true|false|null)$|\s$/.test(value)
    ? value
    : JSON.stringify(value);
}
