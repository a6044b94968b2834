import type { Position } from '../../vocabulary/positions.ts';
import type { Observation } from '../contract.ts';
import { render, templatesFor } from './form-template.ts';
import type { Cell, Form, NumberingCase } from './numbering-cases.ts';
import { controlText } from './targets.ts';
import type { ListChord, Target } from './targets.ts';

/** A numbering with the templates of its forms: all that a control's spelling depends on. */
export interface Scheme {
  readonly numbering: NumberingCase;
  readonly templates: ReadonlyMap<Form, string>;
  /** Changes of controls that it gives their very texts. */
  readonly explains: number;
}

/** All ways to write a control under a scheme. */
export function spellings(
  scheme: Pick<Scheme, 'numbering' | 'templates'>,
  at: Observation,
  position: Position,
): readonly { readonly form: Form; readonly text: string; readonly cell: Cell }[] {
  const cells = scheme.numbering.cells.get(at.series)?.get(position) ?? [];
  return cells.flatMap((cell) => {
    const template = scheme.templates.get(cell.form);
    return template === undefined ? [] : [{ form: cell.form, text: render(template, cell), cell }];
  });
}

interface Vote {
  readonly form: Form;
  readonly template: string;
  readonly changes: Set<string>;
}

/** The best template of each form for one numbering: the one that gives most changes their texts. */
function vote(
  numbering: NumberingCase,
  targets: readonly Target[],
  observations: readonly Observation[],
  chord: ListChord | undefined,
): readonly Vote[] {
  const votes = new Map<string, Vote>();
  targets.forEach((target, number) => {
    target.known.forEach((position, at) => {
      const where = observations[at];
      if (position === undefined || position === null || where === undefined) return;
      for (const cell of numbering.cells.get(where.series)?.get(position) ?? [])
        for (const text of new Set(target.rows.map((row) => controlText(row.held[at], chord))))
          for (const template of text === undefined ? [] : templatesFor(text, cell)) {
            const key = `${cell.form} ${template}`;
            const known = votes.get(key) ?? { form: cell.form, template, changes: new Set() };
            known.changes.add(`${number} ${position} ${where.series.name}`);
            votes.set(key, known);
          }
    });
  });
  return [...votes.values()];
}

/** Names in a template: the more, the less is chance. */
function holes({ template }: Vote): number {
  return template.split('{{').length;
}

/**
 * Every numbering with its best templates, as far as it explains changes at all. Each is a hypothesis over all control
 * values seen; those that explain most survive (a version space, Mitchell 1982).
 */
export function schemesOf(
  cases: readonly NumberingCase[],
  targets: readonly Target[],
  observations: readonly Observation[],
  chord: ListChord | undefined,
): readonly Scheme[] {
  return cases
    .flatMap((numbering): readonly Scheme[] => {
      const votes = vote(numbering, targets, observations, chord);
      const templates = new Map<Form, string>();
      const explained = new Set<string>();
      for (const form of ['button', 'axis', 'hat', 'text'] as const) {
        const best = votes
          .filter((one) => one.form === form)
          .sort(
            (a, b) => b.changes.size - a.changes.size || holes(b) - holes(a) || a.template.length - b.template.length,
          )[0];
        if (best === undefined) continue;
        templates.set(form, best.template);
        for (const change of best.changes) explained.add(change);
      }
      return explained.size === 0 ? [] : [{ numbering, templates, explains: explained.size }];
    })
    .sort((a, b) => b.explains - a.explains);
}
