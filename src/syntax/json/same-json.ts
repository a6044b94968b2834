import type { SyntaxValue } from '../contract.ts';

type Item = { readonly text: string; readonly literal?: boolean };

/** Number text without its spelling: sign, digits without outer zeros, and the exponent of the first digit. */
function canonical(text: string): string {
  const parts = /^(-?)([0-9]+)(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]{1,9}))?$/.exec(text);
  if (parts === null) return text;
  const [, sign = '', whole = '', fraction = '', exponent = '0'] = parts;
  const digits = whole + fraction;
  const lead = /^0*/.exec(digits)?.[0].length ?? 0;
  let last = digits.length;
  while (last > lead && digits[last - 1] === '0') last -= 1;
  return lead >= last ? '0' : `${sign}${digits.slice(lead, last)}e${whole.length - lead + Number(exponent)}`;
}

/** Whether two scalars are one value to a program: `1.0` is `1`, but `"1"` is not. */
export function sameItem(a: Item, b: Item): boolean {
  if ((a.literal ?? false) !== (b.literal ?? false)) return false;
  return a.text === b.text || (a.literal === true && canonical(a.text) === canonical(b.text));
}

export function sameValue(a: SyntaxValue, b: SyntaxValue): boolean {
  if (a.kind === 'scalar' || b.kind === 'scalar') return a.kind === 'scalar' && b.kind === 'scalar' && sameItem(a, b);
  return (
    a.items.length === b.items.length && a.items.every((item, index) => sameItem(item, b.items[index] ?? { text: '' }))
  );
}
