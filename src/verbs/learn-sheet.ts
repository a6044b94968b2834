import { positions } from '../vocabulary/positions.ts';
import type { Position } from '../vocabulary/positions.ts';
import { sheetOf } from '../pipeline/sheet-of.ts';
import { sheetPage } from '../report/html/sheet-page.ts';
import { controlWords } from '../report/sheet-lines.ts';
import type { SheetNames } from '../report/sheet-lines.ts';
import { sheetText } from '../report/sheet-text.ts';
import { flag, text } from './contract.ts';
import type { ExitStatus, Options, Shell } from './contract.ts';
import { roleOption } from './role-option.ts';
import { sayFindings } from './say-findings.ts';
import { chooseTargets } from './targets.ts';
import { writeResult } from './write-result.ts';

/** `learn PROFILE --sheet`: prints what to change on the device, copy by copy, so that its files tell everything. */
export function learnSheet(shell: Shell, args: readonly string[], options: Options): ExitStatus {
  const chosen = chooseTargets(shell, args.slice(0, 1));
  if (chosen.kind === 'stop') return chosen.status;
  const { project, profiles } = chosen.targets;
  const [profile] = profiles;
  if (profile === undefined || profiles.length > 1) {
    shell.say('thumbwright: a sheet is for one device: say which profile, as in:\n  thumbwright learn fern --sheet\n');
    return 2;
  }
  const hold = positionOption(shell, options, 'hold');
  const openMenu = positionOption(shell, options, 'menu');
  if (hold === 'stop' || openMenu === 'stop') return 2;
  const roles = roleOption(options);
  if (typeof roles === 'string') {
    shell.say(`thumbwright: ${roles}\n`);
    return 2;
  }
  const { value, findings } = sheetOf(project, profile.path, {
    firstTen: flag(options, 'firstTen'),
    roles,
    stays: { ...(hold === undefined ? {} : { hold }), ...(openMenu === undefined ? {} : { openMenu }) },
  });
  if (value === undefined) {
    sayFindings(shell, findings);
    return 1;
  }
  const { sheet, device, stays } = value;
  const labels = new Map(
    [...device.controls.controls].flatMap(([position, { label }]) => (label === undefined ? [] : [[position, label]])),
  );
  const told = (position: string | undefined): string | undefined =>
    position === undefined ? undefined : controlWords(position, labels);
  const names: SheetNames = {
    device: device.name,
    frontend: text(options, 'frontend') ?? 'the program',
    labels,
    hold: told(stays.hold),
    openMenu: told(stays.openMenu),
    script: text(options, 'script') ?? 'bring.sh',
  };
  const afterwards = [
    'Then bring the copies over, one after the other; each is kept under its number:',
    '  thumbwright fetch /media/me/GAMES/thumbwright-fetch',
  ];
  const html = text(options, 'html');
  if (html === undefined) {
    shell.out(sheetText(sheet, names, afterwards, shell.width));
    return 0;
  }
  const path = shell.path(html);
  if (!writeResult(shell, path, sheetPage(sheet, names, afterwards))) return 3;
  shell.out(`wrote ${shell.show(path)}\n`);
  return 0;
}

function positionOption(shell: Shell, options: Options, name: 'hold' | 'menu'): Position | undefined | 'stop' {
  const written = text(options, name);
  const position = positions.find((one) => one === written);
  if (written === undefined || position !== undefined) return position;
  shell.say(
    `thumbwright: --${name} wants a position of the device's controls, as in --${name} mode; not ${JSON.stringify(written)}.\n`,
  );
  return 'stop';
}
