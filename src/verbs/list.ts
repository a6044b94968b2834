import { numberText } from '../report/number-text.ts';
import { refitTerms } from '../vocabulary/refit-terms.ts';
import type { VerbSpec } from './contract.ts';

const json = { flags: '--json', says: 'print one JSON document instead of text' } as const;
const card = {
  flags: '--card DIR',
  says: 'where the card is mounted: a folder with one for each part, or PART=DIR for one part',
  many: true,
} as const;

/** Every verb there is, in the order of a person's work. */
export const verbs: readonly VerbSpec[] = Object.freeze([
  {
    name: 'new',
    arguments: 'NAME',
    summary: 'write a starter profile, with comments',
    help: `Writes profiles/NAME.yaml, and profiles/house.yaml where there is none: a profile of a handheld with the usual
controls, to be filled in. Nothing that is there already is replaced.

  thumbwright new fern

From what fetch brought, with everything filled in but the labels:

  thumbwright new fern --from .thumbwright/private/fetched/fern/1

Then read the file from top to bottom, change what is yours, and run

  thumbwright check`,
    options: [
      { flags: '--house NAME', says: 'name of the house that the profile extends (default: house)' },
      { flags: '--from FETCHED', says: 'a folder that fetch unpacked' },
      json,
    ],
    load: () => import('./new.ts'),
  },
  {
    name: 'fetch',
    arguments: '[NAME|FILE|FOLDER]',
    summary: 'bring files and controls of a device over',
    help: `Two steps. First a script for the device, which copies the folders of its frontends, the kernel's list of inputs, versions
and mounts to the games part, and records what each control sends while you press them in a printed order:

  thumbwright fetch fen --script bring.sh
  thumbwright fetch fern --script bring.sh --folder /opt/NAME --games /media/games

Then what it brought, from the card or a copy of its folder thumbwright-fetch, into .thumbwright/private/fetched/DEVICE/,
which git ignores:

  thumbwright fetch /media/me/GAMES/thumbwright-fetch

Or from an archive of that folder (.tar or .tar.gz), as it comes over by remote login; each run in it is unpacked:

  thumbwright fetch fetched.tar.gz`,
    options: [
      { flags: '--script FILE', says: 'write the script; its name ends in .sh' },
      { flags: '--folder DIR', says: "a frontend's folder as the device names it (without a profile)", many: true },
      { flags: '--games DIR', says: 'where the device mounts its games part (without a profile)' },
      { flags: '--cores DIR', says: 'a folder of core files as the device names it: listed with hashes', many: true },
      { flags: '--seconds N', says: 'how long the press test takes (default: 60; 0: none)' },
      { flags: '--as NAME', says: 'the device that it came from, where the script was not told' },
      json,
    ],
    load: () => import('./fetch.ts'),
  },
  {
    name: 'check',
    arguments: '[PROFILE...]',
    summary: 'find what is wrong, or will go wrong on the device',
    help: `Reads profiles (all of the workspace by default), compiles them in memory and tells every problem with its place, the
reason, and a way out. An error stops a build; a warning is a risk that this profile chose; a note is true of nearly
every set-up. Errors give exit status 1; with --strict warnings do too.

  thumbwright check
  thumbwright check fen --fix
  thumbwright check --explain unknown-setting`,
    options: [
      { flags: '--strict', says: 'warnings give exit status 1 too' },
      { flags: '--fix', says: 'apply the mends that are certain' },
      { flags: '--explain CODE', says: 'tell the whole story of one kind of finding' },
      { flags: '--codes', says: 'list every kind of finding' },
      { flags: '--easy-hands', says: 'also tell what is hard for hands with little strength or few fingers' },
      { flags: '--table', says: 'also print which frontend can say what' },
      { flags: '--card DIR', says: "take a card's own files as the base (PART=DIR for one part)", many: true },
      json,
      { flags: '--sarif', says: 'print SARIF 2.1.0 for code hosting sites' },
    ],
    load: () => import('./check.ts'),
  },
  {
    name: 'build',
    arguments: '[PROFILE...]',
    summary: 'compile profiles into the config files of every frontend',
    help: `Compiles profiles (all of the workspace by default) into out/DEVICE/PART/…: each file as the frontend ships it, with only
the keys changed that the profile sets. Nothing is written when there is an error. A file that is right already is not
touched.

  thumbwright build
  thumbwright build fen --card /media/me/card`,
    options: [
      { flags: '--out DIR', says: 'where to write (default: out, in the workspace)' },
      {
        flags: '--card DIR',
        says: "take a card's own files as the base (PART=DIR for one part); the card is only read",
        many: true,
      },
      { flags: '--strict', says: 'warnings stop the build too' },
      { flags: '--newest', says: 'take the newest dialect versions that fit, and pin them' },
      { flags: '--table', says: 'print the whole fidelity table, not only what is lost' },
      { flags: '--watch', says: 'build again whenever a file of the workspace changes' },
      json,
    ],
    load: () => import('./build.ts'),
  },
  {
    name: 'write',
    arguments: '[PROFILE|PLAN]',
    summary: 'put a profile onto its card, and again after every update',
    help: `Compares the profile with the card key by key, shows what would change, asks, and does it: all or nothing, every file read
back, and with a way back (thumbwright undo). Only keys that the profile sets are touched. What an update reset is written
again; what you changed on the device is kept and told.

  thumbwright write fen --card games=/media/me/GAMES --card settings=/media/me/SETTINGS
  thumbwright write fen --card /media/me/card --dry-run

What was shown can be kept as a plan, read by somebody else, and carried out later, exactly; a card that has changed since
is refused:

  thumbwright write fen --card /media/me/card --plan fen-plan.json
  thumbwright write fen-plan.json --card /media/me/card

Where the desktop cannot mount a part, a script does it on the device, planned from what fetch brought of it. It holds the
passwords in plain text. The record says pending until fetch brings its log, or the files anew:

  thumbwright write fen --bundle fen-bundle.sh
  thumbwright fetch /media/me/GAMES/thumbwright-bundle/0123456789abcdef.txt

Power the device off before you take its card out (not to sleep): a frontend writes its files when it ends. Keep a copy of
the saves; look twice at which drive is the card. Passwords stand in plain text on a card.`,
    options: [
      card,
      { flags: '--dry-run', says: 'only show what would be done' },
      { flags: '--yes', says: 'do it without asking; hand changes stay' },
      { flags: '--take-profile', says: "where the card was changed by hand, write the profile's values" },
      { flags: '--accept-version', says: "take the frontends' versions on the card into the profile" },
      { flags: '--saves-may-move', says: 'go on though saves or states may not be found' },
      { flags: '--same-card', says: 'the card is the one written before, with a new image' },
      { flags: '--new-card', says: 'the card is another one, new here' },
      { flags: '--plan FILE', says: 'keep what is shown as a sealed plan, and write nothing' },
      {
        flags: '--bundle FILE',
        says: 'make a script that does it on the device, and write nothing; its name ends in .sh',
      },
      { flags: '--all', says: 'show every key that is written' },
      { flags: '--html FILE', says: 'keep what others changed since the last write as a page, by file' },
      { flags: '--strict', says: 'warnings stop the write too' },
      json,
    ],
    load: () => import('./write.ts'),
  },
  {
    name: 'undo',
    arguments: '[PROFILE]',
    summary: 'take back what the last write did to a card',
    help: `Puts the files of the card back as they were before the last write; said again, the write before that. Of a file that was
changed since, only our keys are taken back, and what was changed by hand is told and kept.

  thumbwright undo fen --card games=/media/me/GAMES --card settings=/media/me/SETTINGS`,
    options: [
      card,
      { flags: '--yes', says: 'do it without asking' },
      { flags: '--same-card', says: 'the card is the one written before, with a new image' },
      json,
    ],
    load: () => import('./undo.ts'),
  },
  {
    name: 'adopt',
    arguments: '[PROFILE]',
    summary: 'carry what was changed on the device back into the YAML',
    help: `Reads the card's files as the dialects say, and tells what they have otherwise than the profile: which line of which file
would be changed to what, and what else that reaches. Then it asks. Comments and layout stay; what no setting says is
written under extra:, and a password found goes to the private secrets file.

  thumbwright adopt fen --card games=/media/me/GAMES --card settings=/media/me/SETTINGS
  thumbwright adopt fen --card /media/me/card --dry-run
  thumbwright adopt fen --card /media/me/card --only saves.write-save-every --at house.yaml

A value goes to the line that set it, where all that this line reaches has the new value too; else into the profile; else
into an only block. With --all, also what the profile does not set. A profile of a device as it stands, from the card and
a profile of the same device:

  thumbwright adopt --new fen-as-found --like fen --card /media/me/card`,
    options: [
      {
        flags: '--card DIR',
        says: 'where the card is mounted: a folder with one for each part, or PART=DIR for one part; it is only read',
        many: true,
      },
      { flags: '--dry-run', says: 'only show what would be written' },
      { flags: '--yes', says: 'write it without asking' },
      { flags: '--only SETTING', says: 'adopt this setting alone', many: true },
      { flags: '--at LAYER', says: 'write it there, whatever else it changes: a file, or a layer as it was shown' },
      { flags: '--all', says: 'also what the profile does not set, as far as the dialects can read it' },
      { flags: '--new NAME', says: 'make a profile of that name from the card as it stands' },
      { flags: '--like PROFILE', says: 'with --new: the profile that has the device and its frontends' },
      json,
    ],
    load: () => import('./adopt.ts'),
  },
  {
    name: 'learn',
    arguments: '[PROFILE] [COPY...]',
    summary: "learn a frontend's spelling from copies of its folder",
    help: `A frontend that no dialect describes is learnt from its own files: you change its settings on the device, by its menu, and
copy its folder in between. The sheet is the recipe for that, to print and tick off: which few copies tell all settings
apart, and what to change before each. What opens the menu is never moved.

  thumbwright learn fern --sheet --first-ten --html sheet.html
  thumbwright learn fern --sheet --frontend 'the player' --hold mode --menu shoulder-left

Then the copies, in the order in which they were taken, with what was changed before each. What is sure is written into the
dialect, with a comment that says how it was learnt; what is likely, as by the names of keys, is asked; nothing else gets in.
One copy alone tells what its names and values say, and what to change to know the rest:

  thumbwright learn fern copy --frontend player
  thumbwright learn fern copy --frontend player --take likely
  thumbwright learn fern before after --frontend player --changed saves.state-on-exit=true
  thumbwright learn fern 1 2 3 --frontend player --changed 2:hotkeys.bind.pause=east --changed 3:burdock/display.smoothing=true
  thumbwright learn fern .thumbwright/private/fetched/fern --folder player --frontend player --by-sheet

A dialect is played through on a copy of its frontend's folder: each setting is read, set to one value after the other, and
read again, in memory. What does not come back, or changes something else, is told, and gives exit status 1:

  thumbwright learn fen --verify .thumbwright/private/fetched/fen/1/hall --frontend harrow-hall`,
    options: [
      { flags: '--sheet', says: 'print what to change on the device, copy by copy' },
      { flags: '--first-ten', says: 'of the sheet only the ten settings that make a device usable' },
      { flags: '--verify FOLDER', says: "play a dialect through on a copy of its frontend's folder" },
      { flags: '--frontend NAME', says: 'which frontend: its name in the profile, or for a sheet what you call it' },
      {
        flags: '--changed CHANGE',
        says: 'what was changed before a copy: [COPY:][SYSTEM/]SETTING=VALUE (the last copy when left out)',
        many: true,
      },
      { flags: '--stands FACT', says: 'what was so in every copy, as SETTING=VALUE (the hold control)', many: true },
      { flags: '--by-sheet', says: 'the copies were made by the sheet, from its first' },
      { flags: '--folder NAME', says: "of runs of fetch: the frontend's folder in them" },
      { flags: '--dialect FILE', says: 'the dialect to write or extend (default: dialects/FRONTEND.yaml)' },
      { flags: '--dry-run', says: 'only tell what was learnt' },
      {
        flags: '--take WHAT',
        says: 'take without being asked: likely for all that is likely, or the id of one setting, or controls',
        many: true,
      },
      { flags: '--role ROLE', says: 'player (as a rule), menu, shelf or system, or several: menu,player' },
      { flags: '--hold POSITION', says: 'with --sheet: what is held for hotkeys on the device now' },
      { flags: '--menu POSITION', says: 'with --sheet: what opens the menu on the device now' },
      { flags: '--script FILE', says: 'with --sheet: the script that fetch made (default: bring.sh)' },
      { flags: '--html FILE', says: 'with --sheet: write it as a page to print' },
      json,
    ],
    load: () => import('./learn.ts'),
  },
  {
    name: 'diff',
    arguments: 'A [B]',
    summary: 'two devices side by side, by what they mean',
    help: `Tells what two devices do otherwise: what the hands must unlearn, hotkeys by position and by label, cores with the reason
for each choice, settings with the line that each side has its value from, and what one side cannot say, and why. What only
looks different (order, a unit, an alias, another dialect's key) is no difference. A secret is named, never shown.

  thumbwright diff tarn mere

A profile as it was at a git revision, against what it is:
  thumbwright diff fen@HEAD~1 fen

Two copies of a frontend on one device, or on two:
  thumbwright diff fen#harrow-hall fen#harrow-annex

A profile and a card as it stands, each frontend read as the version that the card has (the card is only read):
  thumbwright diff fen --card games=/media/me/GAMES --card settings=/media/me/SETTINGS

Frontends are held against each other by name, else by dialect, else by what they are for.`,
    options: [
      { flags: '--fail-on-difference', says: 'exit status 1 when anything differs' },
      { ...card, says: 'a folder of the card to hold the profile against (again for each part: --card games=DIR)' },
      { flags: '--all', says: 'with --card: also what the profile leaves alone' },
      {
        flags: '--only PART',
        says: 'show this part: hands, hotkeys, cores, settings, cannot, frontends, controls, facts',
        many: true,
      },
      { flags: '--markdown', says: 'print Markdown instead of text' },
      { flags: '--html FILE', says: 'write a page with both devices drawn' },
      json,
    ],
    load: () => import('./diff.ts'),
  },
  {
    name: 'refit',
    arguments: 'PROFILE',
    summary: "give a device's hotkeys the controls of another device",
    help: `Proposes where the hotkeys and pad settings of one profile go on the device of another one, so that hands relearn as
little as can be: the best three of all the ways there are, with what each keeps, moves and drops.

  thumbwright refit tarn --to mere
  thumbwright refit tarn --to mere --take 1 --dry-run

A hotkey never goes under the finger that holds the hold control, onto a chord that the operating system takes, or inside
another chord; one that is pinned stays or has no place, and so does a chord of more than three controls. The rest is counted in points, and the fewest win:

${refitTerms.map(({ name, points, says }) => `  ${name.padEnd(9)} ${numberText(points).padStart(13)}  ${says}`).join('\n')}

A dropped hotkey counts twice if it is pressed often, three times if it leads out of a game, a hundred times if it is pinned.
Either profile can give other points:

  refit: { pin: [exit-game], weights: { label: 20 } }

A way is proved when the search has shown that no other costs less; where it gives up, it says what any other costs at least.
What the other profile says in an only block of its own, or pins, stays. --take writes into the profile after --to alone,
never into a house that others share; comments and layout stay.`,
    options: [
      { flags: '--to PROFILE', says: 'the profile of the device that is to take them over' },
      { flags: '--take NUMBER', says: 'write that proposal into the profile after --to' },
      { flags: '--dry-run', says: 'with --take: only show what would be written' },
      { flags: '--yes', says: 'with --take: write it without asking' },
      json,
    ],
    load: () => import('./refit.ts'),
  },
  {
    name: 'explain',
    arguments: 'WHAT...',
    summary: 'why a setting, or a line of a built file, is as it is',
    help: `Names the line of the profile or house, the line of the dialect and the rule behind a value, and the values that lost.

A setting of a profile, for every frontend or one:
  thumbwright explain fen saves.state-on-exit
  thumbwright explain fen saves.state-on-exit harrow-hall

A control, by position or label: what it sends, its number everywhere, and who uses it:
  thumbwright explain fen mode

A line of a built file:
  thumbwright explain out/fen/settings/hall/play.conf:12

The other way, all that one line of a profile, house or dialect reaches:
  thumbwright explain profiles/house.yaml:7

Against a card: whether it has the value, and which line of it is read over ours:
  thumbwright explain fen saves.state-on-exit --card /media/me/card

Against another profile, or one frontend against another: where the two part on the way from the layers to the file. Without
a setting, every one that differs, each with its reason:
  thumbwright explain tarn hotkeys.bind.fast-forward --against mere
  thumbwright explain fen#harrow-hall --against fen#harrow-annex`,
    options: [
      {
        flags: '--against OTHER',
        says: 'why it is otherwise there: a profile, PROFILE@REVISION, or PROFILE#FRONTEND',
      },
      {
        flags: '--card DIR',
        says: 'also tell what a card has, and which line of it hides the value (PART=DIR for one part)',
        many: true,
      },
      json,
    ],
    load: () => import('./explain.ts'),
  },
]);
