// How long a refit takes, and how far it gets: `node test/tools/run.mjs test/bench/refit.ts`.
import { refit } from '../../src/compare/refit/refit.ts';
import { bigProblem } from '../support/refit/big-problem.ts';

const tries = 20;

/** Of the vocabulary's 24 hotkeys two lose something and four are pressed often; more of them is harder than life. */
for (const [actions, controls, risky] of [
  [24, 30, 2],
  [24, 30, 4],
  [24, 30, 8],
  [12, 18, 4],
] as const) {
  const times: number[] = [];
  let proved = 0;
  let nodes = 0;
  for (let seed = 1; seed <= tries; seed++) {
    const problem = bigProblem(seed, actions, controls, risky);
    const begun = performance.now();
    const { proposals, nodes: looked } = refit(problem);
    times.push(performance.now() - begun);
    if (proposals.every((one) => one.proved)) proved += 1;
    nodes = Math.max(nodes, looked);
  }
  times.sort((a, b) => a - b);
  const at = (share: number): string => (times[Math.floor(share * (times.length - 1))] ?? 0).toFixed(0);
  console.log(
    `${actions} hotkeys on ${controls} controls, ${risky} + ${risky} risky: median ${at(0.5)} ms, worst ${at(1)} ms, at most ${nodes} steps; ${proved} of ${tries} proved`,
  );
}
