import type { Finding, Outcome } from '../diagnostics/finding.ts';
import type { LayerDocument } from '../model/document.ts';
import { applyEdits } from '../text/text-edit.ts';
import type { SourceText } from '../text/source-text.ts';
import { editYaml } from '../yaml-edit/edit-yaml.ts';
import type { YamlChange } from '../yaml-edit/edit-yaml.ts';
import type { PlainYaml } from '../yaml-edit/plain-yaml.ts';
import type { Site } from './layers.ts';
import { memberOrder } from './setting-path.ts';

/** A value to be written at a site; undefined takes what stands there out. */
export interface SiteChange {
  readonly site: Site;
  readonly value: PlainYaml | undefined;
  /** Raw keys to be written beside it, at the top of the profile: instance, file, key, text. */
  readonly raw: readonly (readonly [string, string, string, string])[];
}

/** A text with changes of it: as it was, and as it is. */
export interface Rewritten {
  readonly source: SourceText;
  readonly text: string;
}

/**
 * Texts by name after the changes, made one after the other; only those that changed. New blocks of the same reach are
 * one block. With a finding nothing is to be used: a value stands where it cannot be changed alone.
 */
export function writeSites(
  changes: readonly SiteChange[],
  profile: LayerDocument,
): Outcome<ReadonlyMap<string, Rewritten>> {
  const texts = new Map<string, Rewritten>();
  const made = new Map<string, { readonly index: number; readonly paths: (readonly string[])[] }>();
  const findings: Finding[] = [];
  const apply = (
    document: Site['document'],
    change: YamlChange,
    lay: (text: string) => string = (text) => text,
  ): void => {
    const { source } = document;
    const now = texts.get(source.name)?.text ?? source.text;
    const edited = editYaml({ name: source.name, text: now }, [change]);
    findings.push(...edited.findings.filter(({ grade }) => grade === 'error'));
    const laid = edited.value.map((edit) => ({ ...edit, text: lay(edit.text) }));
    texts.set(source.name, { source, text: applyEdits(now, laid) });
  };
  for (const { site, value } of changes) {
    const { document } = site;
    if (site.kind !== 'new-block') {
      const order = memberOrder(document.data, site.path);
      apply(
        document,
        value === undefined ? { op: 'remove', path: site.path } : { op: 'set', path: site.path, value, order },
      );
      continue;
    }
    const path = site.path.map(String);
    const reach = JSON.stringify(site.selectors);
    const own = made.get(reach);
    if (own === undefined) {
      const index = (document.data.only?.length ?? 0) + made.size;
      const block = { for: forOf(site), ...nested(path, value ?? null) };
      const lay = (text: string): string => withShortFor(text, site, path[0] ?? '');
      if (index > 0) apply(document, { op: 'append', path: ['only'], value: block }, lay);
      else
        apply(
          document,
          { op: 'set', path: ['only'], value: [block], order: memberOrder(document.data, ['only']) },
          lay,
        );
      made.set(reach, { index, paths: [path] });
    } else {
      const order = orderInBlock(own.paths, path);
      apply(document, { op: 'set', path: ['only', own.index, ...path], value: value ?? null, order });
      own.paths.push(path);
    }
  }
  for (const { raw } of changes) {
    for (const [instance, file, key, text] of raw) {
      const path = ['extra', instance, file, key];
      apply(profile, { op: 'set', path, value: text, order: memberOrder(profile.data, path) });
    }
  }
  return { value: texts, findings };
}

/** As `memberOrder`, for a block that has some paths so far. */
function orderInBlock(known: readonly (readonly string[])[], path: readonly string[]): readonly string[] {
  const shared = Math.max(...known.map((other) => path.findIndex((name, k) => name !== other[k])));
  const above = path.slice(0, Math.max(shared, 0));
  const data = above.reduceRight<unknown>((inside, name) => ({ [name]: inside }), {});
  return above.length === 0 ? memberOrder({ only: [{}] }, ['only', 0, ...path]) : memberOrder(data, path);
}

function nested(path: readonly (string | number)[], value: PlainYaml): Readonly<Record<string, PlainYaml>> {
  const [first, ...rest] = path.map(String);
  if (first === undefined) return {};
  return { [first]: rest.reduceRight<PlainYaml>((inside, name) => ({ [name]: inside }), value) };
}

/** `for: { frontend: harrow-hall }` on one line, as a person writes it, where the names need no quotes. */
function withShortFor(text: string, site: Site, next: string): string {
  const members = Object.entries(site.selectors ?? {}).flatMap(([name, given]: [string, readonly string[]]) =>
    given.every((one) => /^[a-z][a-z0-9]*(-[a-z0-9]+)+$|^[a-z]{4,}$/.test(one) && !/^(true|null|false)$/.test(one))
      ? [`${name}: ${given.length === 1 ? (given[0] ?? '') : `[${given.join(', ')}]`}`]
      : [],
  );
  if (members.length < Object.keys(site.selectors ?? {}).length) return text;
  return text.replace(
    new RegExp(`for:[ ]*\\r?\\n[^]*?(\\r?\\n *)(?=${next}:)`),
    (_, before: string) => `for: { ${members.join(', ')} }${before}`,
  );
}

/** One name alone stands alone. */
function forOf({ selectors = {} }: Site): Readonly<Record<string, PlainYaml>> {
  return Object.fromEntries(
    (['frontend', 'core', 'system', 'game'] as const).flatMap((name) => {
      const given = selectors[name];
      const [only] = given ?? [];
      return given === undefined || only === undefined ? [] : [[name, given.length === 1 ? only : [...given]]];
    }),
  );
}
