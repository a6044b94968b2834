import { undoCard } from '../pipeline/reach-card.ts';
import { findingJson } from '../report/json-findings.ts';
import { count } from '../report/wrap.ts';
import { flag } from './contract.ts';
import type { VerbRun } from './contract.ts';
import { confirmed, openCard } from './open-card.ts';
import { sayFindings } from './say-findings.ts';
import { version } from './version.ts';

export const run: VerbRun = async (shell, args, options) => {
  const opened = await openCard(shell, 'undo', args, options);
  if (typeof opened === 'number') return opened;
  const { place } = opened;
  const json = flag(options, 'json');
  if (
    !flag(options, 'yes') &&
    !(await confirmed(shell, `Take back what the last write did to the card of ${opened.run.name}? [y/N] `))
  ) {
    shell.say(`Nothing was taken back.\nTo do it without being asked:\n  ${place.commands.undo} --yes\n`);
    return 1;
  }
  const { value, findings } = undoCard(place);
  if (json)
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'undo', undone: value, findings: findings.map(findingJson) }, undefined, 2)}\n`,
    );
  else sayFindings(shell, findings);
  switch (value.kind) {
    case 'nothing':
      if (!json) shell.out(`Nothing is kept of this card that could be taken back.\n`);
      return 0;
    case 'locked':
      return 1;
    case 'failed':
      return 3;
    case 'done':
      if (json) return 0;
      shell.out(
        `Taken back: the write of ${value.stamp}, ${count(value.files.length, 'file')}:\n${value.files.map((path) => `  ${path}\n`).join('')}`,
      );
      if (value.kept.length > 0)
        shell.out(
          `Changed by hand after it, and kept:\n${value.kept.map(({ path, key }) => `  ${path}${key === undefined ? '' : `: ${key}`}\n`).join('')}`,
        );
      return 0;
  }
};
