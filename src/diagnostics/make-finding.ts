import { catalogue } from './catalogue.ts';
import type { Code } from './catalogue.ts';
import type { Finding } from './finding.ts';

/** Makes a finding: the grade comes from the catalogue unless the caller has a reason to lower it. */
export function makeFinding(code: Code, rest: Omit<Finding, 'code' | 'grade'> & { grade?: Finding['grade'] }): Finding {
  return { code, grade: catalogue[code].grade, ...rest };
}
