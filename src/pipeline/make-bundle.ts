import { refusalsOf } from '../5-apply/apply.ts';
import { bundleScript } from '../device/bundle-script.ts';
import type { Bundle, BundleFile } from '../device/bundle-script.ts';
import type { Outcome } from '../diagnostics/finding.ts';
import type { Files } from '../files/contract.ts';
import { splitCardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { CardRecord } from '../model/record.ts';
import type { PreparedParts } from '../pipeline.ts';
import { decodeBytes, encodeText } from '../text/encoding.ts';
import { preparePlan } from './carry-plan.ts';
import type { CarryInput } from './carry-plan.ts';
import { lineScheme } from './line-scheme.ts';
import { fingerprintOf } from './plan-write.ts';

export type MadeBundle =
  | {
      readonly kind: 'made';
      readonly bundle: Bundle;
      readonly files: readonly CardPath[];
      /** As it will stand once the bundle is installed. */
      readonly record: CardRecord;
    }
  /** The card is as the profile says. */
  | { readonly kind: 'nothing' }
  /** The profile does not say where the device mounts these parts. */
  | { readonly kind: 'unmounted'; readonly parts: readonly string[] };

/**
 * What a plan comes to, as a script for the device. Errors: those of `preparePlan`, and of files that are no longer as the
 * plan saw them. Only reads.
 */
export function makeBundle(files: Files, input: CarryInput, parts: PreparedParts): Outcome<MadeBundle | undefined> {
  const { value: ready, findings } = preparePlan(files, input);
  if (ready === undefined) return { value: undefined, findings };
  const refusals = refusalsOf({
    ...input.place,
    works: ready.works,
    fingerprint: (bytes, keyed) => fingerprintOf(bytes, keyed ? input.key : undefined),
  });
  if (refusals.length > 0) return { value: undefined, findings: [...findings, ...refusals] };
  const { device, instances } = parts.resolved;
  const planned = new Map(input.plan.files.map((file) => [file.path, file]));
  const made: BundleFile[] = [];
  for (const work of ready.works) {
    const standing = ready.card(work.path);
    const before = standing.kind === 'text' ? encodeText(standing.source.text) : undefined;
    const file = planned.get(work.path);
    // Only the id file is no file of the plan.
    if (file === undefined && before !== undefined) continue;
    if (before === undefined && work.content === undefined) continue;
    if (before !== undefined && work.content !== undefined && Buffer.compare(before, work.content) === 0) continue;
    made.push({
      path: work.path,
      before,
      after: work.content,
      mode: work.mode,
      owner: work.owner,
      processes: instances
        .filter(({ name }) => file?.instances.includes(name) === true)
        .flatMap(({ dialect }) => dialect.data.process ?? []),
      scheme: file === undefined || before === undefined ? undefined : lineScheme(file, decodeBytes(before)),
    });
  }
  if (made.length === 0) return { value: { kind: 'nothing' }, findings };
  const used = [...new Set([...made.map(({ path }) => splitCardPath(path).part), 'games'])];
  const mounts = new Map(
    used.flatMap((part) => {
      const mount = device.parts.get(part)?.mountedAt;
      return mount === undefined || !/^\/[^\0-\x1f\x7f]*$/.test(mount) ? [] : [[part, mount] as const];
    }),
  );
  const unmounted = used.filter(
    (part) => !mounts.has(part) && made.some(({ path }) => splitCardPath(path).part === part),
  );
  if (unmounted.length > 0) return { value: { kind: 'unmounted', parts: unmounted }, findings };
  const keepsModes = (part: string): boolean => !/fat|ntfs/i.test(device.parts.get(part)?.filesystem ?? 'fat');
  const home = [...mounts.keys()].find(keepsModes) ?? [...mounts.keys()][0] ?? '';
  const bundle = bundleScript({ device: device.id, card: input.plan.card, mounts, home, files: made });
  return {
    value: { kind: 'made', bundle, files: made.map(({ path }) => path), record: ready.record },
    findings,
  };
}
