/** What stands for a secret where its text may not be shown, or is not spelled yet. */
export function secretPlaceholder(name: string): string {
  return `<secret:${name}>`;
}
