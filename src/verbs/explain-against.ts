import { nearestNames } from '../diagnostics/nearest.ts';
import { visible } from '../diagnostics/visible.ts';
import { explainAgainst } from '../pipeline/explain-against.ts';
import { againstJson } from '../report/explain/against-json.ts';
import { againstText, partingsText } from '../report/explain/against-text.ts';
import { paint } from '../report/paint.ts';
import { settingById, settings } from '../vocabulary/registry.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Shell, VerbRun } from './contract.ts';
import { readySide, SideReader } from './read-side.ts';
import { chooseTargets } from './targets.ts';
import { version } from './version.ts';

const cannot = 'nothing can be explained yet';

/** `explain A [SETTING] --against B`: where the two part on the way from the layers to the file. */
export const runAgainst: VerbRun = (shell, args, options) => {
  const [first, setting, more] = args;
  const second = text(options, 'against');
  if (first === undefined || second === undefined)
    return wrongUsage(shell, '--against wants a profile or frontend on either side');
  if (more !== undefined) return wrongUsage(shell, 'with --against a frontend is named behind a #');
  if (texts(options, 'card').length > 0)
    return wrongUsage(shell, '--against holds profiles against each other, not cards');
  if (setting !== undefined && settingById(setting) === undefined) return noSetting(shell, setting, [first, second]);
  const opened = chooseTargets(shell, []);
  if (opened.kind === 'stop') return opened.status;
  const reader = new SideReader(shell, opened.targets.project);
  const a = reader.read(first);
  if (typeof a === 'number') return a;
  const b = reader.read(second);
  if (typeof b === 'number') return b;
  if ((a.instance === undefined) !== (b.instance === undefined))
    return wrongUsage(shell, 'a frontend is held against a frontend, a profile against a profile');
  const one = readySide(shell, a, cannot);
  if (one.kind === 'wrong') return one.status;
  const two = readySide(shell, b, cannot, one.side);
  if (two.kind === 'wrong') return two.status;
  const explanation = explainAgainst(one.side, two.side, setting);
  if (flag(options, 'json'))
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'explain', ...(setting === undefined ? {} : { setting }), against: againstJson(explanation) }, undefined, 2)}\n`,
    );
  else {
    const brush = paint(shell.colour.out);
    shell.out(
      setting === undefined
        ? partingsText(explanation, shell.width)
        : againstText(explanation, setting, brush, shell.width),
    );
  }
  return 0;
};

function wrongUsage(shell: Shell, what: string): ExitStatus {
  shell.say(
    `thumbwright: ${what}, as in:\n  thumbwright explain tarn saves.resume-on-start --against mere\n  thumbwright explain fen#harrow-hall --against fen#harrow-annex\nSee:\n  thumbwright help explain\n`,
  );
  return 2;
}

function noSetting(shell: Shell, written: string, [a, b]: readonly [string, string]): ExitStatus {
  const near = nearestNames(
    written,
    settings.map(({ id }) => id),
  );
  const wayOut =
    near.length > 0
      ? `Did you mean ${near.join(' or ')}?`
      : `See the settings, or for a control what is where on each device:\n  thumbwright help settings\n  thumbwright diff ${visible(a)} ${visible(b)} --only controls`;
  shell.say(`thumbwright: no setting is called ${JSON.stringify(visible(written))}.\n${wayOut}\n`);
  return 2;
}
