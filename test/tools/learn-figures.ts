// Prints what the issue "learn" asks for, measured on the corpus: precision and recall from labelled changes and from one
// copy, numberings, and noise taken for settings. Usage: node test/tools/run.mjs test/tools/learn-figures.ts [--show]
// --show lists what was wrong and missed on the tuning part; of the held-out part only sums are ever printed.
import { figuresOf, sumFigures } from '../support/learn/figures.ts';
import type { Figures, Share } from '../support/learn/figures.ts';
import type { Learner } from '../support/learn/learner.ts';
import { ourLearner } from '../support/learn/our-learner.ts';
import { readCorpus } from '../support/learn/read-corpus.ts';

/** The learner of src/learn, once there is one: it is connected here, and nowhere else. */
function connectedLearner(): Learner | undefined {
  return ourLearner;
}

function percent({ right, of }: Share): string {
  return of === 0 ? 'none told' : `${((100 * right) / of).toFixed(1)} % (${String(right)} of ${String(of)})`;
}

function print(title: string, figures: Figures): void {
  console.log(title);
  console.log(`  labelled: sure, precision   ${percent(figures.surePrecision)}`);
  console.log(`  labelled: sure, recall      ${percent(figures.sureRecall)}`);
  console.log(`  one copy: likely, precision ${percent(figures.likelyPrecision)}`);
  console.log(`  one copy: likely, recall    ${percent(figures.likelyRecall)}`);
  console.log(
    `  numbering right             ${percent(figures.numberingRight)}, open: ${String(figures.numberingOpen)}`,
  );
  console.log(`  noise or look-alikes taken  ${String(figures.taken.length)}`);
}

const show = process.argv.includes('--show');
const learner = connectedLearner();
if (learner === undefined) {
  console.error('No learner is connected yet: see connectedLearner in test/tools/learn-figures.ts.');
  process.exitCode = 2;
} else {
  const tuning = readCorpus('tuning').map((entry) => ({ name: entry.name, figures: figuresOf(entry, learner) }));
  for (const { name, figures } of show ? tuning : []) {
    print(name, figures);
    for (const line of [...figures.wrong, ...figures.missed.map((id) => `missed ${id}`)]) console.log(`    ${line}`);
  }
  const heldOut = readCorpus('held-out').map((entry) => figuresOf(entry, learner));
  print(`tuning (${String(tuning.length)})`, sumFigures(tuning.map(({ figures }) => figures)));
  print(`held-out (${String(heldOut.length)})`, sumFigures(heldOut));
}
