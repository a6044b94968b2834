import type { Rule } from './contract.ts';
import { enoughRoom } from './card/enough-room.ts';
import { fileOverLimit } from './card/file-over-limit.ts';
import { hiddenOnCard } from './card/hidden-on-card.ts';
import { madeAnew } from './card/made-anew.ts';
import { namesHeld } from './card/names-held.ts';
import { onePathTwice } from './card/one-path-twice.ts';
import { chordDiffers } from './chords/chord-differs.ts';
import { chordInsideChord } from './chords/chord-inside-chord.ts';
import { destructiveBesideFrequent } from './chords/destructive-beside-frequent.ts';
import { destructiveUnguarded } from './chords/destructive-unguarded.ts';
import { exitAsksFirst } from './chords/exit-asks-first.ts';
import { indexMovesWithPad } from './chords/index-moves-with-pad.ts';
import { noWayOut } from './chords/no-way-out.ts';
import { oneChordTwoActions } from './chords/one-chord-two-actions.ts';
import { reservedChord } from './chords/reserved-chord.ts';
import { rewindIsOff } from './chords/rewind-is-off.ts';
import { sameFinger } from './chords/same-finger.ts';
import { holdReachesGame } from './chords/hold-reaches-game.ts';
import { firmwareThere } from './cores/firmware-there.ts';
import { accessNotKept } from './network/access-not-kept.ts';
import { artworkDays } from './network/artwork-days.ts';
import { wantsNetwork } from './network/wants-network.ts';
import { knownNames } from './references/known-names.ts';
import { onlyReaches } from './references/only-reaches.ts';
import { someFrontend } from './references/some-frontend.ts';
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
  someFrontend,
  oneChordTwoActions,
  chordDiffers,
  reservedChord,
  chordInsideChord,
  sameFinger,
  destructiveBesideFrequent,
  destructiveUnguarded,
  noWayOut,
  exitAsksFirst,
  rewindIsOff,
  holdReachesGame,
  indexMovesWithPad,
  resumeNeedsState,
  stateHidesSave,
  savesWritten,
  reservedChordLoses,
  coreChange,
  strictAchievements,
  sharedStates,
  saveFolderWiped,
  firmwareThere,
  hiddenOnCard,
  wantsNetwork,
  accessNotKept,
  artworkDays,
  namesHeld,
  fileOverLimit,
  enoughRoom,
  onePathTwice,
  madeAnew,
]);
