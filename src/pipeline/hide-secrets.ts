import { textsOf } from '../3-compile/secret-uses.ts';
import { styleOf } from '../dialect/style-of.ts';
import type { Base } from '../4-plan/build-files.ts';
import type { Lens } from '../dialect/contract.ts';
import type { Compiled, KeyText } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { Resolved } from '../model/resolved.ts';
import { syntaxes } from '../syntax/registry.ts';
import type { Syntax } from '../syntax/contract.ts';
import { applyEdits } from '../text/text-edit.ts';
import type { SourceText } from '../text/source-text.ts';
import { settingById } from '../vocabulary/registry.ts';

/** What stands for a secret that the profile does not name, or that is not the profile's. */
const hidden = '<hidden>';
/** Shorter texts stand in a file by chance. */
const telling = 6;

/** What a key holds on the card when it is the profile's secret, and what is shown for it. */
interface Site {
  readonly instance: string;
  readonly file: string;
  readonly real: KeyText | undefined;
  readonly shown: KeyText | undefined;
}

/**
 * A card's texts as they may be shown, compared and kept: at each key that a dialect has for a secret, `<secret:NAME>`
 * where the card holds the text of the profile's secret, else `<hidden>`; the same texts elsewhere in the file too. Of a
 * file that is made whole and holds secrets, all of it where it is not the file that would be made. Laying the profile
 * without texts into these gives the files to show.
 */
export function hideSecrets(
  base: Base,
  parts: { readonly resolved: Resolved; readonly compiled: Compiled; readonly lenses: ReadonlyMap<string, Lens> },
  /** The profile with the texts of its secrets, where they are known. */
  spelled?: Compiled,
): Base {
  const sites = sitesOf(parts.resolved, parts.compiled, parts.lenses, spelled);
  const wholes = new Map(
    parts.compiled.wholeFiles
      .map((file, at) => [file.path, { shown: file.text, real: spelled?.wholeFiles[at]?.text }] as const)
      .filter(([, { shown, real }]) => shown !== real && shown.includes('secret:')),
  );
  const done = new Map<CardPath, SourceText | undefined>();
  return (path) => {
    if (done.has(path)) return done.get(path);
    const source = base(path);
    const whole = wholes.get(path);
    const own = sites.get(path);
    let result = source;
    if (source !== undefined && whole !== undefined)
      result = { name: source.name, text: source.text === whole.real ? whole.shown : `${hidden}\n` };
    else if (source !== undefined && own !== undefined) result = hideKeys(source, own, parts.resolved);
    done.set(path, result);
    return result;
  };
}

/** Every key of a secret, by file: those that the profile sets, and those that its dialects have for other secrets. */
function sitesOf(
  resolved: Resolved,
  compiled: Compiled,
  lenses: ReadonlyMap<string, Lens>,
  spelled: Compiled | undefined,
): ReadonlyMap<CardPath, ReadonlyMap<string, Site>> {
  const found = new Map<CardPath, Map<string, Site>>();
  const add = (path: CardPath, key: string, site: Site): void => {
    const known = found.get(path) ?? new Map<string, Site>();
    found.set(path, known);
    if (!known.has(key)) known.set(key, site);
  };
  compiled.edits.forEach(({ decision, instance, file, path, key, value }, at) => {
    if (decision?.value.kind !== 'secret') return;
    add(path, key, { instance, file, shown: value, real: spelled?.edits[at]?.value });
  });
  for (const [instance, lens] of lenses) {
    for (const id of lens.settings()) {
      if (settingById(id)?.type.kind !== 'secret') continue;
      const points = resolved.instances
        .filter(({ name }) => name === instance)
        .flatMap((one) => [{}, ...resolved.points(one, id)]);
      for (const point of points) {
        const told = lens.spell(id, { kind: 'secret', name: 'any' }, point);
        for (const { file, path, key } of told.kind === 'cannot' ? [] : told.writes)
          add(path, key, { instance, file, shown: undefined, real: undefined });
      }
    }
  }
  return found;
}

function hideKeys(source: SourceText, sites: ReadonlyMap<string, Site>, resolved: Resolved): SourceText {
  const [first] = sites.values();
  const spec = resolved.instances.find(({ name }) => name === first?.instance)?.dialect.data.files[first?.file ?? ''];
  if (spec === undefined) return source;
  const syntax: Syntax = syntaxes[spec.syntax];
  const style = styleOf(spec.style);
  const { tree } = syntax.parse(source, style);
  // What cannot be read cannot be told apart either.
  if (tree === undefined) return { name: source.name, text: `${hidden}\n` };
  const texts: string[] = [];
  let text = source.text;
  for (const [key, { real, shown }] of sites) {
    const held = tree.get(key);
    if (held === undefined) continue;
    const same = real !== undefined && textsOf(held).join('\0') === textsOf(real).join('\0');
    const value: KeyText = same && shown !== undefined ? shown : { kind: 'scalar', text: hidden };
    // What stood there before us may be a placeholder already, of an `out` folder that was copied.
    if (shown !== undefined && textsOf(held).join('\0') === textsOf(shown).join('\0')) continue;
    texts.push(...textsOf(held));
    text = put(syntax, { name: source.name, text }, key, value, style);
  }
  // Also in comments, and in lines of the same key that do not count.
  for (const secret of texts.filter((one) => one.length >= telling))
    for (const form of new Set([secret, syntax.escape(secret)])) text = text.replaceAll(form, hidden);
  return { name: source.name, text };
}

function put(
  syntax: Syntax,
  source: SourceText,
  key: string,
  value: KeyText,
  style: ReturnType<typeof styleOf>,
): string {
  const { tree } = syntax.parse(source, style);
  if (tree === undefined) return `${hidden}\n`;
  const { edits, results } = syntax.change(tree, [{ op: 'set', path: key, value }]);
  if (results[0]?.kind !== 'refused') return applyEdits(source.text, edits);
  const span = tree.find(key)?.valueSpan ?? { start: 0, end: source.text.length };
  return applyEdits(source.text, [{ span, text: hidden }]);
}
