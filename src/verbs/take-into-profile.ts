import { overlayFiles } from '../files/overlay.ts';
import type { Adoption, SettingPlace } from '../model/adoption.ts';
import type { HostPath } from '../model/paths.ts';
import { runProfile } from '../pipeline.ts';
import type { PreparedParts, Project } from '../pipeline.ts';
import { adoptProfile } from '../pipeline/adopt-profile.ts';
import { adoptionText } from '../report/adoption-text.ts';
import { encodeText } from '../text/encoding.ts';
import type { Shell } from './contract.ts';
import type { OpenCard } from './open-card.ts';

/** The profile with what the person took from the card in it. Nothing is written yet. */
export interface Taken {
  readonly parts: PreparedParts;
  /** The person's files, whole. */
  readonly own: ReadonlyMap<HostPath, Uint8Array>;
  readonly secrets: Adoption['secrets'];
}

/**
 * Adopts some settings at some places, shows what that writes into the profile, and compiles it so. Undefined where
 * none of them can be adopted; then that is said. `own`: what is to be written into the person's files anyhow.
 */
export function takeIntoProfile(
  shell: Shell,
  opened: OpenCard,
  places: readonly SettingPlace[],
  own: ReadonlyMap<HostPath, Uint8Array>,
  secretText: (name: string) => string | undefined,
): Taken | undefined {
  const { record, path, card } = opened;
  const over = (files: ReadonlyMap<HostPath, Uint8Array>): Project => ({
    ...opened.project,
    files: overlayFiles(opened.project.files, files),
    dialects: new Map(),
    catalogs: new Map(),
  });
  const adopted = adoptProfile(over(own), path, {
    card,
    record,
    all: false,
    only: new Set(places.map(({ setting }) => setting)),
    places,
    at: undefined,
    secretText,
    alternatives: false,
    notByHand: new Map(),
  });
  if (adopted.value === undefined) return undefined;
  const { told } = adopted.value;
  // What else the profile and the card say differently is told by the write itself.
  shell.out(adoptionText({ ...told, missing: [], remaining: [], unread: [] }));
  if (told.files.length === 0 && told.secrets.length === 0) return undefined;
  const files = new Map([...own, ...told.files.map((file) => [file.path, encodeText(file.text)] as const)]);
  const run = runProfile(over(files), path, { card, newest: false });
  return run.parts === undefined ? undefined : { parts: run.parts, own: files, secrets: told.secrets };
}
