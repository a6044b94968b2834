import { visible } from '../diagnostics/visible.ts';
import { countDifferences } from '../model/comparison.ts';
import type { Comparison } from '../model/comparison.ts';
import type { CardFolders } from '../pipeline.ts';
import { compareWithCard } from '../pipeline/compare-card.ts';
import { compareSides } from '../pipeline/compare-profiles.ts';
import type { NamedSide, ReadSide } from '../pipeline/compare-profiles.ts';
import { knownSecrets } from '../pipeline/known-secrets.ts';
import { diffJson } from '../report/diff/diff-json.ts';
import { diffMarkdown } from '../report/diff/diff-markdown.ts';
import { diffParts } from '../report/diff/diff-sections.ts';
import type { DiffPart } from '../report/diff/diff-sections.ts';
import { diffText } from '../report/diff/diff-text.ts';
import { diffPage } from '../report/html/diff-page.ts';
import { findingJson } from '../report/json-findings.ts';
import { paint } from '../report/paint.ts';
import { sortFindings } from '../report/terminal/findings.ts';
import { flag, text, texts } from './contract.ts';
import type { ExitStatus, Options, Shell, VerbRun } from './contract.ts';
import { partsGiven } from './parts-given.ts';
import { readySide, SideReader } from './read-side.ts';
import { sayFindings } from './say-findings.ts';
import { cardFolders, chooseTargets } from './targets.ts';
import { version } from './version.ts';
import { writeResult } from './write-result.ts';

export const run: VerbRun = async (shell, args, options) => {
  const [first, second, third] = args;
  const card = cardFolders(shell, options);
  if (card === 'stop') return 2;
  if (card !== undefined && second !== undefined) return wrongUsage(shell, 'a card is held against one profile');
  if (card === undefined && flag(options, 'all')) return wrongUsage(shell, '--all goes with --card');
  if (first === undefined || (card === undefined && second === undefined) || third !== undefined)
    return wrongUsage(shell, 'diff wants two, or one and a card');
  if (flag(options, 'json') && flag(options, 'markdown')) {
    shell.say('thumbwright: --json and --markdown each want standard output for themselves.\nGive one of them.\n');
    return 2;
  }
  const parts = readParts(shell, texts(options, 'only'));
  if (parts === undefined) return 2;
  const opened = chooseTargets(shell, []);
  if (opened.kind === 'stop') return opened.status;
  const reader = new SideReader(shell, opened.targets.project);
  const a = reader.read(first);
  if (typeof a === 'number') return a;
  if (second === undefined) return card === undefined ? 2 : againstCard(shell, a, card, parts, options);
  const b = reader.read(second);
  if (typeof b === 'number') return b;
  if ((a.instance === undefined) !== (b.instance === undefined))
    return wrongUsage(shell, 'an instance is held against an instance');
  const one = readOr(shell, a, options);
  if (typeof one === 'number') return one;
  const two = readOr(shell, b, options, one);
  if (typeof two === 'number') return two;
  return tell(shell, compareSides(one, two), parts, options);
};

async function againstCard(
  shell: Shell,
  named: NamedSide,
  card: CardFolders,
  parts: readonly DiffPart[],
  options: Options,
): Promise<ExitStatus> {
  const side = readOr(shell, named, options);
  if (typeof side === 'number') return side;
  const folders = partsGiven(shell, `diff ${visible(named.shown)}`, side.parts.resolved.device, card);
  if (folders === undefined) return 2;
  const secrets = knownSecrets(named.project, shell.environment);
  sayFindings(shell, secrets.findings);
  const comparison = await compareWithCard(side, {
    card: { whole: undefined, parts: folders },
    all: flag(options, 'all'),
    secretText: secrets.value,
  });
  return tell(shell, comparison, parts, options);
}

/** The parts asked for, in the report's order; all where none is named. */
function readParts(shell: Shell, named: readonly string[]): readonly DiffPart[] | undefined {
  const bad = named.find((name) => !diffParts.some((part) => part === name));
  if (bad === undefined) return named.length === 0 ? diffParts : diffParts.filter((part) => named.includes(part));
  shell.say(
    `thumbwright: the report has no part called ${JSON.stringify(visible(bad))}.\nThere are: ${diffParts.join(', ')}.\n`,
  );
  return undefined;
}

function wrongUsage(shell: Shell, what: string): ExitStatus {
  shell.say(
    `thumbwright: ${what}, as in:\n  thumbwright diff tarn mere\n  thumbwright diff fen@HEAD~1 fen\n  thumbwright diff fen#harrow-hall fen#harrow-annex\n  thumbwright diff fen --card DIR\nSee:\n  thumbwright help diff\n`,
  );
  return 2;
}

/** The side, or the exit status where it cannot be compared. */
function readOr(shell: Shell, named: NamedSide, options: Options, first?: ReadSide): ReadSide | ExitStatus {
  const readied = readySide(shell, named, 'it cannot be compared', first);
  if (readied.kind === 'ready') return readied.side;
  if (flag(options, 'json') && readied.errors.length > 0)
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'diff', findings: sortFindings(readied.errors).map(findingJson) }, undefined, 2)}\n`,
    );
  return readied.status;
}

function tell(shell: Shell, comparison: Comparison, parts: readonly DiffPart[], options: Options): ExitStatus {
  const html = text(options, 'html');
  if (html !== undefined) {
    const path = shell.path(html);
    if (!writeResult(shell, path, diffPage(comparison, parts))) return 3;
    shell.say(`wrote ${shell.show(path)}\n`);
  }
  if (flag(options, 'json'))
    shell.out(
      `${JSON.stringify({ thumbwright: version, document: 'diff', ...diffJson(comparison), findings: [] }, undefined, 2)}\n`,
    );
  else if (flag(options, 'markdown')) shell.out(diffMarkdown(comparison, parts));
  else shell.out(diffText(comparison, paint(shell.colour.out), shell.width, parts));
  return flag(options, 'failOnDifference') && countDifferences(comparison) > 0 ? 1 : 0;
}
