/** A profile of a handheld with the usual controls, to be filled in. It loads as it stands; `check` says what is missing. */
export function starterProfile(name: string, house: string): string {
  return `# yaml-language-server: $schema=../schema/profile.schema.json
# One handheld. What every handheld of yours shares belongs in ${house}.
profile: ${name}
format: 1
name: ${name.charAt(0).toUpperCase()}${name.slice(1)}
extends: ${house}
# catalog: NAME@1              # the list of game systems and cores: a file in catalogs/, or a package

device:
  body: upright                # upright, wide or folding: which finger reaches what
  wifi: none                   # none, adapter or built-in
  parts:                       # what the card is divided into; the names are yours
    games: { filesystem: fat32, mounted-at: /media/games, survives-reimage: true }
    settings: { filesystem: ext4, mounted-at: /opt/settings }
  controls:                    # by position: where a control sits, whatever is printed on it
    south: { label: B }
    east: { label: A }
    west: { label: Y }
    north: { label: X }
    dpad-up: {}
    dpad-down: {}
    dpad-left: {}
    dpad-right: {}
    shoulder-left: { label: L }
    shoulder-right: { label: R }
    select: { label: Select }
    start: { label: Start }
    mode: { label: Menu }
    # Button numbers need to know all that the pad sends. List it, by the kernel's names:
    # codes: { pad: [BTN_SOUTH, BTN_EAST, BTN_NORTH, BTN_WEST, BTN_TL, BTN_TR, BTN_SELECT, BTN_START, BTN_MODE] }
  # reserved:                  # chords that the operating system takes
  #   - { press: [mode, volume-up], does: brighter }

# Each installed copy of a program that runs or lists games. Its dialect is a file in dialects/ that says how it
# spells the settings.
# frontends:
#   first: { dialect: NAME@^1, version: unknown, root: "settings:folder", bits: 64 }

# cores:
#   choice: { SYSTEM: [CORE, OTHER-CORE] }   # best first; the first that this device can run is taken

# only:                        # narrower than the device
#   - for: { system: SYSTEM }
#     saves: { resume-on-start: false }
`;
}

/** The ten settings that make a device usable, each with the reason to choose. */
export function starterHouse(name: string): string {
  return `# yaml-language-server: $schema=../schema/house.schema.json
# What all your handhelds share. A profile says only where it differs.
house: ${name}
format: 1

hotkeys:
  hold: mode                   # held down to reach the hotkeys below
  bind:                        # each pressed together with hold; a list is wishes, best first
    exit-game: start
    open-menu: south
    fast-forward: { control: [shoulder-right, east], while: held }
    save-state: dpad-up
    load-state: dpad-down
    show-frame-rate: none      # none takes a hotkey away; leaving a line out leaves the device's own

saves:
  state-on-exit: true          # the place in the game is kept when you leave
  resume-on-start: true        # … and taken up again; a save made elsewhere is then hidden by the state
  write-save-every: 10 s       # a flat battery costs at most this
`;
}
