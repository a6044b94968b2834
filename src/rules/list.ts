import type { Rule } from './contract.ts';
import { holdReachesGame } from './chords/hold-reaches-game.ts';
import { firmwareThere } from './cores/firmware-there.ts';
import { artworkDays } from './network/artwork-days.ts';
import { wantsNetwork } from './network/wants-network.ts';
import { knownNames } from './references/known-names.ts';
import { onlyReaches } from './references/only-reaches.ts';
import { versionCovered } from './references/version-covered.ts';
import { coreChange } from './saves/core-change.ts';
import { reservedChordLoses } from './saves/reserved-chord-loses.ts';
import { resumeNeedsState } from './saves/resume-needs-state.ts';
import { saveFolderWiped } from './saves/save-folder-wiped.ts';
import { savesWritten } from './saves/saves-written.ts';
import { sharedStates } from './saves/shared-states.ts';
import { stateHidesSave } from './saves/state-hides-save.ts';
import { strictAchievements } from './saves/strict-achievements.ts';

/** In the order of the vocabulary's chapters; findings are sorted by place when they are shown. */
export const rules: readonly Rule[] = Object.freeze([
  knownNames,
  onlyReaches,
  versionCovered,
  holdReachesGame,
  resumeNeedsState,
  stateHidesSave,
  savesWritten,
  reservedChordLoses,
  coreChange,
  strictAchievements,
  sharedStates,
  saveFolderWiped,
  firmwareThere,
  wantsNetwork,
  artworkDays,
]);
