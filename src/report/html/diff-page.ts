import { drawDevice } from '../../drawing/svg.ts';
import { controlDiffers } from '../../model/comparison.ts';
import type { Comparison } from '../../model/comparison.ts';
import { diffSections } from '../diff/diff-sections.ts';
import type { DiffPart } from '../diff/diff-sections.ts';
import { htmlPage } from './page.ts';
import type { PageSection } from './page.ts';

/** Numbers in front of a section's rows, from one on. */
function numbered(section: PageSection): PageSection {
  return {
    ...section,
    tables: (section.tables ?? []).map((table) => ({
      ...table,
      rows: table.rows.map(([head, ...rest], at) =>
        head === undefined ? rest : [{ ...head, numbers: [at + 1] }, ...rest],
      ),
    })),
  };
}

function add(marked: Map<string, number[]>, position: string, number: number): void {
  marked.set(position, [...(marked.get(position) ?? []), number]);
}

/** A comparison as a page: both devices drawn, with what the hands have to unlearn and the controls that differ marked. */
export function diffPage(comparison: Comparison, parts: readonly DiffPart[]): string {
  const { a, b, hands } = comparison;
  const [onA, onB] = [new Map<string, number[]>(), new Map<string, number[]>()];
  const differing = comparison.controls.filter(controlDiffers);
  hands.forEach(({ positions }, at) => {
    for (const position of positions.a) add(onA, position, at + 1);
    for (const position of positions.b) add(onB, position, at + 1);
  });
  for (const { position } of differing)
    for (const marked of [onA, onB]) if (!marked.has(position)) marked.set(position, []);
  const picture = (side: 'a' | 'b'): { readonly caption: string; readonly svg: string } => {
    const { shown, device, body } = comparison[side];
    const controls = new Map(
      comparison.controls.flatMap((one) => (one[side] === undefined ? [] : [[one.position, one[side].label] as const])),
    );
    return {
      caption: shown,
      svg: drawDevice({ name: device, body, controls, marked: side === 'a' ? onA : onB }),
    };
  };
  const sections = parts.flatMap((part) =>
    diffSections(comparison, [part]).map((section) => (part === 'hands' ? numbered(section) : section)),
  );
  return htmlPage({
    title: `${a.shown} against ${b.shown}`,
    lead: [
      sections.length === 0
        ? 'There is no difference.'
        : 'What differs by meaning. In the pictures the controls that differ have a thick outline; numbers are those of what the hands have to unlearn.',
      ...comparison.untold,
    ],
    pictures: [picture('a'), picture('b')],
    sections,
    footer: 'Made by thumbwright.',
  });
}
