/** Rows of cells as aligned columns, two blanks between them, no blanks at line ends. The first row is the head. */
export function table(rows: readonly (readonly string[])[], indent = ''): string {
  const widths: number[] = [];
  for (const row of rows) row.forEach((cell, k) => (widths[k] = Math.max(widths[k] ?? 0, cell.length)));
  return rows
    .map((row) => (indent + row.map((cell, k) => cell.padEnd(widths[k] ?? 0)).join('  ')).trimEnd() + '\n')
    .join('');
}
