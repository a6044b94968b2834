import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { Finding } from '../../diagnostics/finding.ts';
import type { Change, Changed, ChangeResult } from '../contract.ts';
import { editXml } from './edit-xml.ts';
import { XmlChanger } from './xml-changer.ts';
import { XmlOverlay } from './xml-overlay.ts';
import { readXmlPath } from './xml-path.ts';
import type { XmlTree } from './xml-tree.ts';

/** Changes by path. Parents that the path determines are made, with the attributes and child texts of its tests. */
export function changeXml(tree: XmlTree, changes: readonly Change[]): Changed {
  const overlay = new XmlOverlay(tree);
  const changer = new XmlChanger(overlay);
  const last = new Map(changes.map(({ path }, index) => [path, index]));
  const results: ChangeResult[] = changes.map((change, index) => {
    const read = readXmlPath(change.path);
    if (!('path' in read)) return { kind: 'refused', finding: badXmlPath(tree, change.path, read.wrong) };
    if (last.get(change.path) !== index) return { kind: 'unchanged' };
    return changer.result(
      change.op === 'set'
        ? changer.set(tree.document, read.path, change.value, change.path)
        : changer.remove(read.path, change.path),
    );
  });
  return { edits: editXml(overlay), results };
}

export function badXmlPath(tree: XmlTree, path: string, wrong: string): Finding {
  return makeFinding('bad-key-path', {
    detail: `'${path}' is no element path for ${tree.source.name}: ${wrong}.`,
    wayOut: "Write it as /settings/option[@name='smooth']/@value, with tests in brackets and their values in quotes.",
    place: { source: tree.source, span: { start: 0, end: 0 } },
  });
}
