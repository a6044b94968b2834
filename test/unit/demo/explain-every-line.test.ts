import { describe, expect, it } from 'vitest';
import { keysOnLine } from '../../../src/report/explain/keys-on-line.ts';
import { lineColumn } from '../../../src/text/line-index.ts';
import { runDemo } from '../../support/demo.ts';

/** Lines of `after` that are not in `before`, by their longest common subsequence: another road than the text edits. */
function changedLines(before: string, after: string): readonly number[] {
  const a = before.split('\n');
  const b = after.split('\n');
  let head = 0;
  while (head < a.length && head < b.length && a[head] === b[head]) head += 1;
  let tail = 0;
  while (tail < a.length - head && tail < b.length - head && a[a.length - 1 - tail] === b[b.length - 1 - tail])
    tail += 1;
  const x = a.slice(head, a.length - tail);
  const y = b.slice(head, b.length - tail);
  const width = y.length + 1;
  const table = new Uint32Array((x.length + 1) * width);
  for (let i = x.length - 1; i >= 0; i--) {
    for (let j = y.length - 1; j >= 0; j--) {
      table[i * width + j] =
        x[i] === y[j]
          ? (table[(i + 1) * width + j + 1] ?? 0) + 1
          : Math.max(table[(i + 1) * width + j] ?? 0, table[i * width + j + 1] ?? 0);
    }
  }
  const changed: number[] = [];
  let i = 0;
  let j = 0;
  while (j < y.length) {
    if (i < x.length && x[i] === y[j]) {
      i += 1;
      j += 1;
    } else if (i < x.length && (table[(i + 1) * width + j] ?? 0) >= (table[i * width + j + 1] ?? 0)) i += 1;
    else {
      changed.push(head + j + 1);
      j += 1;
    }
  }
  return changed;
}

describe('explain', () => {
  it('names the profile line, the dialect line and the rule of every line that build changed in the demo', () => {
    let lines = 0;
    const silent: string[] = [];
    for (const { name, built } of runDemo()) {
      for (const file of built.files) {
        const { whole } = file;
        if (whole !== undefined) {
          // A file that is wholly ours: its template's line in the dialect, and the first setting that is in it.
          expect(whole.origin.place.source.name).toMatch(/^profiles\/[a-z]+\.yaml$/);
          expect(whole.dialectPlace.source.name).toMatch(/^profiles\/dialects\/[a-z]+\.yaml$/);
          lines += file.text.split('\n').length - 1;
          continue;
        }
        for (const line of changedLines(file.base?.text ?? '', file.text)) {
          const text = file.text.split('\n')[line - 1] ?? '';
          if (text.trim() === '') continue;
          lines += 1;
          const keys = keysOnLine(file, line);
          const told = keys.some(({ edit }) => {
            const { place } = edit.origin;
            const at = lineColumn(place.source, place.span.start).line;
            const fromProfile = /^profiles\/[a-z]+\.yaml$/.test(place.source.name) && at > 1;
            const fromDialect =
              edit.setting === 'extra' ||
              (edit.dialectPlace !== undefined &&
                /^profiles\/dialects\/[a-z]+\.yaml$/.test(edit.dialectPlace.source.name));
            return fromProfile && fromDialect && edit.rule.name !== '' && edit.rule.says !== '';
          });
          if (!told) silent.push(`${name} ${file.path}:${line}: ${text}`);
        }
      }
    }
    expect(silent).toEqual([]);
    expect(lines).toBeGreaterThan(100);
  });

  it('points at a dialect line that holds the key, and at a profile line that holds the setting', () => {
    for (const { built } of runDemo()) {
      for (const edit of built.compiled.edits) {
        if (edit.setting === 'extra') continue;
        const place = edit.dialectPlace;
        expect(place).toBeDefined();
        if (place === undefined) continue;
        const { source, span } = place;
        const from = source.text.lastIndexOf('\n', span.start) + 1;
        const to = source.text.indexOf('\n', span.end);
        const line = source.text.slice(from, to < 0 ? undefined : to);
        // The entry of the setting, or of the numbering of its controls, stands on the line that is named.
        // (A record's entry is called by the last part of the setting's name.)
        expect(line, `${edit.setting} in ${edit.path}`).toContain(
          edit.record === undefined ? edit.setting : edit.setting.replace(/^[a-z]+\./, ''),
        );
      }
    }
  });
});
