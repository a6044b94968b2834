import type { Finding } from '../diagnostics/finding.ts';
import { overlayFiles } from '../files/overlay.ts';
import type { HostPath } from '../model/paths.ts';
import { runProfile } from '../pipeline.ts';
import type { PreparedParts } from '../pipeline.ts';
import { acceptVersions, otherVersions } from '../pipeline/accept-versions.ts';
import type { OtherVersion } from '../pipeline/accept-versions.ts';
import { cardVersions } from '../pipeline/card-versions.ts';
import { cardReader } from '../pipeline/plan-write.ts';
import { flag } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { confirmed } from './open-card.ts';
import type { OpenCard } from './open-card.ts';
import { stopWrite } from './stop-write.ts';

/** The profile with the card's versions in it, where they differ and the person says yes. */
export async function settleVersions(
  shell: Shell,
  opened: OpenCard,
  options: Options,
): Promise<
  | {
      readonly parts: PreparedParts;
      readonly findings: readonly Finding[];
      readonly versions: ReadonlyMap<string, string | undefined>;
      readonly accepted: ReadonlyMap<HostPath, Uint8Array>;
    }
  | ExitStatus
> {
  const { project, parts, folders } = opened;
  const read = cardReader(project.files, folders);
  const found = await cardVersions(parts.resolved.instances, parts.dialects, (path) => {
    const text = read(path);
    return text.kind === 'text' ? text.source : undefined;
  });
  const versions = new Map(found.map(({ instance, found: card }) => [instance, card] as const));
  const others = otherVersions(parts, found);
  if (others.findings.length > 0) return stopWrite(shell, options, others.findings);
  if (others.value.length === 0) return { parts, findings: opened.run.findings, versions, accepted: new Map() };
  const told = others.value.map(otherLine).join('');
  shell.say(`The card has other versions than the profile says:\n${told}`);
  const yes =
    flag(options, 'acceptVersion') ||
    (!flag(options, 'yes') &&
      !flag(options, 'dryRun') &&
      (await confirmed(shell, 'Write them into the profile and go on? [y/N] ')));
  if (!yes && !flag(options, 'dryRun')) {
    shell.say(
      `Nothing was written: what a key means hangs on the version.\nTo take the card's versions into the profile:\n  ${opened.place.commands.write} --accept-version\n`,
    );
    return 1;
  }
  const edited = acceptVersions(parts, others.value);
  if (edited.findings.length > 0) return stopWrite(shell, options, edited.findings);
  if (edited.value.inPackages.length > 0) {
    shell.say(
      `Nothing was written: the version of ${edited.value.inPackages.join(' and ')} is said in a package, which is not yours to change.\nWrite it into the profile:\n  version: …\n`,
    );
    return 1;
  }
  const accepted = new Map([...edited.value.files].map(([path, { bytes }]) => [path, bytes] as const));
  const again = runProfile(
    { ...project, files: overlayFiles(project.files, accepted), dialects: new Map(), catalogs: new Map() },
    opened.path,
    { card: opened.card, newest: false },
  );
  if (again.parts === undefined) return stopWrite(shell, options, again.findings);
  return { parts: again.parts, findings: again.findings, versions, accepted };
}

function otherLine({ instance, profile, card }: OtherVersion): string {
  return `  ${instance}: ${card} on the card, ${profile ?? 'none'} in the profile\n`;
}
