import { everyScope } from '../scopes.ts';
import type { SettingDefinition } from '../types.ts';

interface Hotkey {
  readonly does: string;
  readonly words: readonly string[];
  readonly reads: string;
  readonly hazard?: string;
  /** May work for as long as it is held, or be switched on and off. */
  readonly whiles?: true;
  readonly destructive?: true;
  readonly frequent?: true;
  /** Done by the operating system, whatever runs. */
  readonly bySystem?: true;
}

function bind(name: string, hotkey: Hotkey): SettingDefinition {
  const { does, words, reads, hazard, destructive, frequent } = hotkey;
  return {
    id: `hotkeys.bind.${name}`,
    type: { kind: 'bind', whiles: hotkey.whiles === true },
    scopes: everyScope,
    roles: hotkey.bySystem === true ? ['system'] : ['player'],
    volatile: false,
    description: `Hotkey: ${does}`,
    words,
    reads: `${reads}: {value}`,
    ...(hazard === undefined ? {} : { hazard }),
    ...(destructive === undefined ? {} : { destructive }),
    ...(frequent === undefined ? {} : { frequent }),
  };
}

/** What is pressed in a game to reach the frontend. Wishes for free controls are settled in this order. */
export const hotkeys: readonly SettingDefinition[] = [
  {
    id: 'hotkeys.hold',
    type: { kind: 'control' },
    scopes: everyScope,
    roles: ['player'],
    volatile: false,
    description: 'The control that is held down to reach the hotkeys. Without one, every hotkey works by itself.',
    words: ['hold', 'modifier', 'hotkey enable', 'function', 'combo', 'meta', 'shift'],
    hazard: 'With no hold control, or one that games use too, hotkeys go off in the middle of play.',
    reads: 'hold for hotkeys: {value}',
  },
  bind('exit-game', {
    does: 'leave the game and go back to where it was started from.',
    words: ['exit game', 'exit', 'quit', 'close', 'leave', 'stop', 'end'],
    reads: 'leave the game',
    hazard: 'Without it a player switches the device off instead, and may lose progress.',
  }),
  bind('open-menu', {
    does: 'open the menu of the running game.',
    words: ['open menu', 'menu', 'pause menu', 'settings menu', 'options', 'overlay menu', 'gui'],
    reads: 'open the menu',
    frequent: true,
  }),
  bind('pause', {
    does: 'stop the game where it is, and go on when pressed again.',
    words: ['pause', 'freeze', 'halt', 'break'],
    reads: 'pause',
    frequent: true,
  }),
  bind('fast-forward', {
    does: 'run the game faster, while held or until pressed again.',
    words: ['fast forward', 'turbo', 'speed up', 'fast', 'ff', 'accelerate', 'unthrottle'],
    reads: 'fast-forward',
    whiles: true,
    frequent: true,
  }),
  bind('slow-motion', {
    does: 'run the game slower, while held or until pressed again.',
    words: ['slow motion', 'slow', 'slowmo', 'slow down'],
    reads: 'slow motion',
    whiles: true,
  }),
  bind('rewind', {
    does: 'run the game backwards, while held or until pressed again.',
    words: ['rewind', 'back in time', 'reverse', 'backwards', 'rw'],
    reads: 'rewind',
    hazard: 'It does nothing while speed.rewind.on is false, and strict achievements switch it off.',
    whiles: true,
  }),
  bind('save-state', {
    does: 'keep a state in the chosen slot, over what the slot held.',
    words: ['save state', 'quick save', 'store state', 'write state', 'snapshot save', 'save'],
    reads: 'save a state',
    frequent: true,
  }),
  bind('load-state', {
    does: 'go back to the state in the chosen slot. Everything played since is lost.',
    words: ['load state', 'quick load', 'restore state', 'read state', 'snapshot load', 'load'],
    reads: 'load a state',
    hazard: 'Pressed by mistake, it throws away what was played since the state.',
    destructive: true,
  }),
  bind('next-state-slot', {
    does: 'choose the next state slot.',
    words: ['next state slot', 'next slot', 'slot up', 'slot plus', 'slot increase', 'slot forward'],
    reads: 'next state slot',
  }),
  bind('previous-state-slot', {
    does: 'choose the state slot before this one.',
    words: [
      'previous state slot',
      'previous slot',
      'prev slot',
      'slot down',
      'slot minus',
      'slot decrease',
      'slot back',
    ],
    reads: 'previous state slot',
  }),
  bind('reset-game', {
    does: 'start the game anew, as the reset switch of a machine does. Unsaved progress is lost.',
    words: ['reset game', 'reset', 'restart', 'reboot', 'soft reset'],
    reads: 'reset the game',
    hazard: 'Pressed by mistake, it throws away everything since the last save.',
    destructive: true,
  }),
  bind('screenshot', {
    does: 'keep a picture of the screen.',
    words: ['screenshot', 'screen capture', 'capture', 'snap', 'grab', 'picture'],
    reads: 'take a screenshot',
  }),
  bind('show-frame-rate', {
    does: 'show or hide how many frames a second the game runs at.',
    words: ['show frame rate', 'fps', 'framerate', 'show fps', 'frame counter', 'statistics'],
    reads: 'show the frame rate',
  }),
  bind('mute', {
    does: 'switch the sound off, and on again.',
    words: ['mute hotkey', 'mute', 'silence', 'sound off', 'audio off'],
    reads: 'mute',
  }),
  bind('change-disc', {
    does: 'go on to the next disc of a game that has several.',
    words: ['change disc', 'next disc', 'disc next', 'disk next', 'swap disc', 'swap disk', 'disc'],
    reads: 'change the disc',
  }),
  bind('disc-lid', {
    does: 'open and close the lid of the disc drive, as some games ask before the disc is changed.',
    words: ['disc lid', 'eject', 'disc tray', 'disk tray', 'open tray', 'lid'],
    reads: 'disc lid',
  }),
  bind('swap-screens', {
    does: 'swap the two screens of a game that has two.',
    words: ['swap screens', 'screen swap', 'switch screens', 'screen layout', 'dual screen'],
    reads: 'swap the screens',
  }),
  bind('turn-screen', {
    does: 'turn the picture by a quarter, for games that are played upright.',
    words: ['turn screen', 'rotate', 'rotation', 'rotate screen', 'orientation'],
    reads: 'turn the screen',
  }),
  bind('next-frame', {
    does: 'while paused, go on by one frame.',
    words: ['next frame', 'frame advance', 'advance', 'step', 'single step'],
    reads: 'go on by one frame',
  }),
  bind('cheats', {
    does: 'switch the cheats of this game off, and on again.',
    words: ['cheats hotkey', 'cheat toggle', 'cheats', 'cheat', 'codes'],
    reads: 'cheats on and off',
  }),
  bind('volume-up', {
    does: 'make the sound louder.',
    words: ['volume up', 'louder', 'vol up', 'volume plus', 'volume increase'],
    reads: 'louder',
    bySystem: true,
  }),
  bind('volume-down', {
    does: 'make the sound softer.',
    words: ['volume down', 'softer', 'quieter', 'vol down', 'volume minus', 'volume decrease'],
    reads: 'softer',
    bySystem: true,
  }),
  bind('brighter', {
    does: 'make the screen brighter.',
    words: ['brighter', 'brightness up', 'backlight up', 'brightness plus', 'brightness increase'],
    reads: 'brighter',
    bySystem: true,
  }),
  bind('darker', {
    does: 'make the screen darker.',
    words: ['darker', 'brightness down', 'backlight down', 'brightness minus', 'brightness decrease', 'dimmer'],
    reads: 'darker',
    bySystem: true,
  }),
];
