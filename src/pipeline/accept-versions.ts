import type { Finding, Outcome } from '../diagnostics/finding.ts';
import { makeFinding } from '../diagnostics/make-finding.ts';
import { satisfiesVersions } from '../dialect/frontend-version.ts';
import { valueAt } from '../model/value-at.ts';
import type { HostPath } from '../model/paths.ts';
import type { PreparedParts } from '../pipeline.ts';
import { encodeText } from '../text/encoding.ts';
import { applyEdits } from '../text/text-edit.ts';
import { editYaml } from '../yaml-edit/edit-yaml.ts';
import type { YamlChange, YamlPath } from '../yaml-edit/edit-yaml.ts';
import type { CardVersion } from './card-versions.ts';

/** A frontend whose version on the card is not the one that the profile says. */
export interface OtherVersion {
  readonly instance: string;
  readonly profile: string | undefined;
  readonly card: string;
}

/** Versions that differ; one that the dialect does not cover is an error, and no yes helps. */
export function otherVersions(
  { resolved }: PreparedParts,
  found: readonly CardVersion[],
): Outcome<readonly OtherVersion[]> {
  const findings: Finding[] = [];
  const others: OtherVersion[] = [];
  for (const { instance: name, found: card, file } of found) {
    const instance = resolved.instances.find((one) => one.name === name);
    if (instance === undefined || card === undefined || card === instance.version) continue;
    others.push({ instance: name, profile: instance.version, card });
    const range = instance.dialect.data['for-versions'];
    if (satisfiesVersions(card, range)) continue;
    findings.push(
      makeFinding('version-not-covered', {
        detail: `${name} on the card is of version ${card} (by ${file ?? 'its files'}), and the dialect ${instance.dialect.data.dialect} ${instance.dialect.data.version} covers ${range}. What its keys mean there is not known, so nothing may be written.`,
        wayOut: `Take a dialect that covers ${card}, or bring the frontend to a version that is covered.`,
        place: instance.place,
        instance: name,
      }),
    );
  }
  return { value: others, findings };
}

export interface AcceptedVersions {
  /** New bytes by file, with the file's name as it is shown. */
  readonly files: ReadonlyMap<HostPath, { readonly name: string; readonly bytes: Uint8Array }>;
  /** Instances whose version is said only in a package, which is not the person's to change. */
  readonly inPackages: readonly string[];
}

/** The person's own files with the card's versions in them: new bytes by file. Errors are those of the YAML edit. */
export function acceptVersions({ layers }: PreparedParts, others: readonly OtherVersion[]): Outcome<AcceptedVersions> {
  const findings: Finding[] = [];
  const inPackages: string[] = [];
  const byLayer = new Map<number, YamlChange[]>();
  for (const { instance, card } of others) {
    const at: YamlPath = instance === 'os' ? ['device', 'os'] : ['frontends', instance];
    // The highest layer that says a version; else the highest that has the instance.
    const own = layers.map((layer, index) => ({ layer, index })).filter(({ layer }) => layer.base.label === '');
    const says = own.filter(({ layer }) => isSet(valueAt(layer.document.data, [...at, 'version'])));
    const holds = own.filter(({ layer }) => isSet(valueAt(layer.document.data, at)));
    const index = (says.at(-1) ?? holds.at(-1))?.index;
    if (index === undefined) {
      inPackages.push(instance);
      continue;
    }
    const changes = byLayer.get(index) ?? [];
    byLayer.set(index, changes);
    changes.push({ op: 'set', path: [...at, 'version'], value: card });
  }
  const files = new Map<HostPath, { readonly name: string; readonly bytes: Uint8Array }>();
  for (const [index, changes] of byLayer) {
    const layer = layers[index];
    if (layer === undefined) continue;
    const { source } = layer.document;
    const edited = editYaml(source, changes);
    findings.push(...edited.findings);
    files.set(layer.path, { name: source.name, bytes: encodeText(applyEdits(source.text, edited.value)) });
  }
  return { value: { files, inPackages }, findings };
}

function isSet(value: unknown): boolean {
  return value !== undefined && value !== null;
}
