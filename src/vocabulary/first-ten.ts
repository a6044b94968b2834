/** The settings that make a device usable, in the order in which they are met: what a newcomer is led to first. */
export const firstTen: readonly string[] = [
  'hotkeys.hold',
  'hotkeys.bind.exit-game',
  'hotkeys.bind.open-menu',
  'hotkeys.bind.fast-forward',
  'hotkeys.bind.save-state',
  'hotkeys.bind.load-state',
  'saves.state-on-exit',
  'saves.resume-on-start',
  'saves.write-save-every',
  'hotkeys.bind.show-frame-rate',
];
