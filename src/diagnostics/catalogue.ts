import { applyCodes } from './catalogue/apply.ts';
import { compileCodes } from './catalogue/compile.ts';
import { learnCodes } from './catalogue/learn.ts';
import { loadCodes } from './catalogue/load.ts';
import { planCodes } from './catalogue/plan.ts';
import { resolveCodes } from './catalogue/resolve.ts';
import { ruleCodes } from './catalogue/rules.ts';
import { easyHandsCodes } from './catalogue/easy-hands.ts';
import { secretCodes } from './catalogue/secrets.ts';
import { syntaxCodes } from './catalogue/syntax.ts';
import { shellCodes } from './catalogue/shell.ts';

/** Every finding code there is, by the phase that raises it. Page `pages/CODE.md` and a case folder go with each. */
export const catalogue = {
  ...loadCodes,
  ...resolveCodes,
  ...compileCodes,
  ...ruleCodes,
  ...easyHandsCodes,
  ...syntaxCodes,
  ...shellCodes,
  ...secretCodes,
  ...planCodes,
  ...applyCodes,
  ...learnCodes,
} as const;

export type Code = keyof typeof catalogue;
