import { lineStartBefore } from '../shared/line-plan.ts';
import type { PrintSpot, YamlLayout } from './print-yaml.ts';
import type { YamlMap, YamlNode, YamlSeq, YamlStyle } from './yaml-model.ts';
import type { YamlTree } from './yaml-tree.ts';

/** The column of an offset, from 0. */
export const columnOf = (text: string, at: number): number => at - lineStartBefore(text, at);

/** How a text is laid out, from the first places that show it; two columns, padded braces where none does. */
export function layoutOf(tree: YamlTree): YamlLayout {
  const { text } = tree.source;
  let step: number | undefined = tree.style.indent?.length;
  let sequenceStep: number | undefined;
  let padded: boolean | undefined;
  let blockLists = false;
  let flowLists = false;
  const visit = (node: YamlNode): void => {
    if (node.kind === 'map') {
      if (node.layout === 'flow' && node.pairs.length > 0) padded ??= text[node.span.start + 1] === ' ';
      for (const { value, span } of node.pairs) {
        if (node.layout === 'block' && value.kind === 'map' && value.layout === 'block') {
          step ??= columnOf(text, value.span.start) - columnOf(text, span.start);
        }
        if (node.layout === 'block' && value.kind === 'seq' && value.layout === 'block') {
          sequenceStep ??= columnOf(text, value.span.start) - columnOf(text, span.start);
        }
        visit(value);
      }
    } else if (node.kind === 'seq') {
      if (node.layout === 'flow') flowLists = true;
      else if (node.items.every((item) => item.value.kind === 'scalar')) blockLists = true;
      for (const { value } of node.items) visit(value);
    }
  };
  if (tree.document.root !== undefined) visit(tree.document.root);
  const found = Math.max(1, step ?? 2);
  return {
    step: found,
    sequenceStep: Math.max(0, sequenceStep ?? found),
    padded: padded ?? true,
    flowLists: flowLists || !blockLists,
  };
}

/** How a new value in a collection is quoted: as its last sibling that is a string. */
export function spotIn(text: string, node: YamlMap | YamlSeq): PrintSpot {
  const values = node.kind === 'map' ? node.pairs.map((pair) => pair.value) : node.items.map((item) => item.value);
  const last = values.findLast((value) => value.kind === 'scalar' && !value.literal);
  const like: YamlStyle | undefined = last?.kind === 'scalar' ? last.style : undefined;
  const key = node.kind === 'map' ? node.pairs.at(-1)?.span.start : undefined;
  return { flow: node.layout !== 'block', like, quotedKeys: key !== undefined && text[key] === '"' };
}
