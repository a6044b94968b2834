import type { LineScheme } from '../device/line-edits.ts';
import type { PlannedFile } from '../model/plan.ts';

/**
 * How the lines of a planned file are known again in a text that a frontend has written anew since. Undefined where a
 * line by itself does not tell which key it is: elements of a list, values of several lines. `text`: as the plan saw it.
 */
export function lineScheme(planned: PlannedFile, text: string): LineScheme | undefined {
  if (planned.act !== 'change' || planned.changes.some(({ op }) => op === 'record')) return undefined;
  const keys = planned.changes.flatMap((change) => (change.op === 'record' ? [] : [change.key]));
  // An index of a list.
  if (keys.some((key) => /(^|[/.[ ])\d+(?=[\]/.]|$)/.test(key) || key.includes('['))) {
    if (planned.syntax !== 'ini' && planned.syntax !== 'pairs') return undefined;
  }
  const written = planned.style?.separator;
  const separator = Array.isArray(written) ? written.join('') : typeof written === 'string' ? written : '=:';
  const keyEnd = separator.trim() === '' ? ' \t' : separator.replace(/\s/g, '');
  const goesOn = /\\\r?$/m.test(text);
  switch (planned.syntax) {
    case 'pairs':
    case 'properties':
    case 'lines':
      return goesOn ? undefined : { sections: 'none', keyEnd };
    case 'ini':
      return goesOn ? undefined : { sections: 'header', keyEnd };
    case 'toml':
      return /"""|'''|^\s*\[\[|[[{(,]\s*(#.*)?\r?$/m.test(text) ? undefined : { sections: 'header', keyEnd: '=' };
    case 'json':
      return { sections: 'indent', keyEnd: ':' };
    case 'yaml':
      return /[|>][+-]?\d?\s*\r?$/m.test(text) ? undefined : { sections: 'indent', keyEnd: ':' };
    case 'xml':
      return { sections: 'indent', keyEnd: '>' };
    case 'template':
      return undefined;
  }
}
