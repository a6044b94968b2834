/** Breaks text at blanks to lines of at most `width` columns, each begun with `indent`. A line that stands alone (begun with two blanks) is kept. */
export function wrap(text: string, width: number, indent: string): string {
  const room = Math.max(20, width - indent.length);
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    if (paragraph.startsWith('  ') || paragraph === '') {
      lines.push(paragraph);
      continue;
    }
    let line = '';
    for (const word of paragraph.split(' ')) {
      if (line !== '' && line.length + 1 + word.length > room) {
        lines.push(line);
        line = word;
      } else line = line === '' ? word : `${line} ${word}`;
    }
    lines.push(line);
  }
  return lines.map((line) => (line === '' ? '' : indent + line)).join('\n');
}

/** `1 error`, `3 errors`. */
export function count(number: number, thing: string): string {
  return `${number} ${thing}${number === 1 ? '' : 's'}`;
}
