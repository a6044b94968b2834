/** A test in brackets after a step, in the order written. */
export type XmlTest =
  | { readonly kind: 'index'; readonly index: number }
  | { readonly kind: 'attribute' | 'child'; readonly name: string; readonly value: string }
  | { readonly kind: 'text'; readonly value: string };

export interface XmlStep {
  readonly name: string;
  readonly tests: readonly XmlTest[];
}

/** Elements downwards, and at the end perhaps an attribute. A part of XPath 1.0's abbreviated syntax, with its sense. */
export interface XmlPath {
  readonly steps: readonly XmlStep[];
  readonly attribute: string | undefined;
}

export type PathRead = { readonly path: XmlPath } | { readonly wrong: string };

// Names end where the path language goes on; a colon is part of a name, namespaces are not resolved.
const name = /[^\s/[\]@'"=<>&.!()|*,$+][^\s/[\]@'"=<>&!()|*,$+]*/y;
const test = /\[(?:([0-9]+)|(\.|@?)([^\s/[\]@'"=<>&!()|*,$+.][^\s/[\]@'"=<>&!()|*,$+]*)?=(?:'([^']*)'|"([^"]*)"))\]/y;

/** @param path from the top: `/games/game[path='a.rom']/@id`; or, when `relative`, from an element: `@id`, `meta/loved`, `.` */
export function readXmlPath(path: string, relative = false): PathRead {
  const steps: XmlStep[] = [];
  if (relative && path === '.') return { path: { steps, attribute: undefined } };
  const whole = relative ? `/${path}` : path;
  let at = 0;
  while (at < whole.length) {
    if (whole[at] !== '/')
      return { wrong: at === 0 ? "it does not begin with '/'" : `'/' is due before '${whole.slice(at)}'` };
    at += 1;
    const isAttribute = whole[at] === '@';
    if (isAttribute) at += 1;
    name.lastIndex = at;
    const found = name.exec(whole)?.[0];
    if (found === undefined)
      return { wrong: `a name is due ${at >= whole.length ? 'at its end' : `before '${whole.slice(at)}'`}` };
    at += found.length;
    if (isAttribute) {
      if (at < whole.length) return { wrong: 'an attribute stands before its end' };
      if (steps.length === 0 && !relative) return { wrong: 'it names an attribute of no element' };
      return { path: { steps, attribute: found } };
    }
    const tests: XmlTest[] = [];
    while (whole[at] === '[') {
      test.lastIndex = at;
      const parts = test.exec(whole);
      if (parts === null)
        return { wrong: `the test '${whole.slice(at)}' is none of [2], [@name='…'], [child='…'] and [.='…']` };
      const [all, index, sign, of, single, double] = parts;
      const value = single ?? double ?? '';
      if (index !== undefined) {
        if (Number(index) < 1) return { wrong: 'an index counts from 1' };
        tests.push({ kind: 'index', index: Number(index) });
      } else if (sign === '.' && of === undefined) tests.push({ kind: 'text', value });
      else if (sign !== '.' && of !== undefined)
        tests.push({ kind: sign === '@' ? 'attribute' : 'child', name: of, value });
      else return { wrong: `the test '${all}' is none of [2], [@name='…'], [child='…'] and [.='…']` };
      at += all.length;
    }
    steps.push({ name: found, tests });
  }
  return steps.length === 0 ? { wrong: 'it is empty' } : { path: { steps, attribute: undefined } };
}
