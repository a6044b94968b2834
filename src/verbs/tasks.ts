/** Help by task: what a person wants to do, and the commands for it. Only what the tool can do today is told. */
export const tasks: readonly { readonly name: string; readonly title: string; readonly text: string }[] = [
  {
    name: 'new-card',
    title: 'A new card',
    text: `1. Describe the handheld, once:
  thumbwright new fern
   and fill in the file that it writes.
2. See whether it makes sense:
  thumbwright check fern
3. Power the device off, mount its card, look twice at which drive it is, and keep a copy of its saves. Then see what would change:
  thumbwright write fern --card games=/media/me/GAMES --card settings=/media/me/SETTINGS --dry-run
4. And do it (thumbwright undo takes it back):
  thumbwright write fern --card games=/media/me/GAMES --card settings=/media/me/SETTINGS
   A part that your desktop cannot read is left out, and said: a script on the device reaches it, once fetch has brought its files:
  thumbwright write fern --bundle fern-bundle.sh
`,
  },
  {
    name: 'update',
    title: 'An update came',
    text: `An update of the operating system often puts settings back. Write again: it tells what the update did, writes again what
was reset, and leaves what you changed on the device.
  thumbwright write fern --card games=/media/me/GAMES --card settings=/media/me/SETTINGS
If the update changed a frontend's version, it asks whether to take the new one into the profile; a dialect that does not
cover it is an error, not a guess.
What you changed on the device yourself and want to keep goes back into the profile:
  thumbwright adopt fern --card games=/media/me/GAMES --card settings=/media/me/SETTINGS
`,
  },
  {
    name: 'second-device',
    title: 'A second device',
    text: `Put what both share into the house file, and what differs into each profile:
  thumbwright new heron
Positions, not labels, are what a hotkey names: the same line works on a device whose buttons are printed otherwise.
A list of wishes lets one line serve devices with fewer controls:
  fast-forward: { control: [trigger-right, east], while: held }
See what the two do otherwise, what the new one cannot do, and what the hands must unlearn:
  thumbwright diff fern heron
And why one setting is otherwise there:
  thumbwright explain fern hotkeys.bind.fast-forward --against heron
To carry over the hotkeys of the device that your hands know, where the second one has other controls:
  thumbwright refit fern --to heron
It proposes what hands relearn least, and writes what you take:
  thumbwright refit fern --to heron --take 1
`,
  },
  {
    name: 'dead-button',
    title: 'A button does nothing',
    text: `Ask where the value came from and where it went:
  thumbwright explain fern hotkeys.bind.fast-forward
Ask which frontends can say it at all:
  thumbwright check fern --table
And the line of the file itself:
  thumbwright explain out/fern/settings/hall/keys.conf:12
`,
  },
  {
    name: 'broken-card',
    title: 'A card broke',
    text: `The profiles are the source: a card is compiled anew. Image a new card as its maker says (that erases all that is on it:
look twice at which drive it is), then follow
  thumbwright help new-card
Saves and states are not in a profile: copy them from a backup of the old card first.
`,
  },
];
