import type { Learnt } from '../pipeline/learn-copies.ts';

/** What was learnt, as `learn --json` tells it. Texts of files are in it only where a spelling is made of them. */
export function learntJson(learnt: Learnt): object {
  const { controls } = learnt;
  return {
    files: learnt.files.map(({ id, path, format }) => ({ id, path, syntax: format.syntax, style: format.style })),
    controls: controls ?? null,
    proposals: learnt.proposals.map(({ setting, scope, grade, entry, keys, evidence, rivals, open }) => ({
      setting: setting.id,
      scope,
      grade,
      entry,
      keys,
      evidence,
      rivals,
      open: open ?? null,
    })),
    noise: learnt.noise,
    unexplained: learnt.unexplained,
    leftAlone: learnt.leftAlone,
    unlearnt: learnt.unlearnt.map(({ setting, scope, why }) => ({ setting: setting.id, scope, why })),
    questions: learnt.questions,
  };
}
