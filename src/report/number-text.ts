/** A number with its thousands apart: 3,000,213.5 */
export function numberText(number: number): string {
  const [whole = '', part] = String(number).split('.');
  return `${whole.replace(/\B(?=(\d{3})+$)/g, ',')}${part === undefined ? '' : `.${part}`}`;
}
