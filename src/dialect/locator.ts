import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { ScopePoint } from '../model/resolved.ts';
import type { Syntax, SyntaxName } from '../syntax/contract.ts';
import type { Cannot } from './codecs/contract.ts';
import type { CompiledFile, CompiledKey, CompiledWrite } from './compiled-dialect.ts';
import type { Context } from './contract.ts';
import { escapeInKey } from './key-escape.ts';
import type { Renames } from './moved.ts';
import { scopeOf } from './place-values.ts';
import { pointNames } from './point-names.ts';
import { ownKeyName } from './template/names.ts';
import type { NameLookup, Template } from './template/template.ts';

/** One key of a write, found on the card: where it is, and the entry of the key map that it is. */
export interface Target {
  readonly entry: CompiledKey;
  readonly path: CardPath;
  readonly key: string;
}

/** A write at one scope point. */
export interface Placed {
  readonly write: CompiledWrite;
  readonly file: CompiledFile;
  readonly targets: readonly Target[];
}

/** Names that may hold several members of a path. */
const folders: ReadonlySet<string> = new Set(['root', 'games-root', 'firmware-root', 'system.folder', 'game.path']);

/** Finds the files and keys of a dialect on one device's card. */
export class Locator {
  private readonly context: Context;
  private readonly syntaxes: Readonly<Record<SyntaxName, Syntax>>;
  private readonly renames: Renames;

  constructor(context: Context, syntaxes: Readonly<Record<SyntaxName, Syntax>>, renames: Renames) {
    this.context = context;
    this.syntaxes = syntaxes;
    this.renames = renames;
  }

  cardNames(point: ScopePoint): NameLookup {
    return pointNames(this.context, this.renames, point, 'card');
  }

  /** `names` are those of the point. */
  filePath(file: CompiledFile, names: NameLookup, point: ScopePoint): CardPath | Cannot {
    // Only roots, folders and game paths may hold several members; any other name with a slash would make a folder.
    const broken = [...file.path.names].find((name) => {
      const value = names(name);
      return typeof value === 'string' && !folders.has(name) && /[/\\]/.test(value);
    });
    const made = broken === undefined ? file.path.render(names, (text) => text) : undefined;
    if (made === undefined) {
      return {
        kind: 'cannot',
        code: 'path-not-possible',
        why: `{{${broken ?? ''}}} in the path of ${file.id} holds a slash, which would make a folder`,
      };
    }
    if (made.kind === 'cannot') return { kind: 'cannot', code: 'path-not-possible', why: made.why };
    if (made.kind === 'missing') {
      return {
        kind: 'cannot',
        code: 'name-without-value',
        why: `{{${made.name}}} in the path of ${file.id} has no value here`,
      };
    }
    const text = tidy(made.text);
    const before = file.path.render(asBefore(names, point), (name) => name);
    const path = cardPath(this.renamed(text, before.kind === 'text' ? tidy(before.text) : text));
    if (path === undefined || path.endsWith(':')) {
      return {
        kind: 'cannot',
        code: 'path-not-possible',
        why: `${JSON.stringify(made.text)} is no path within a part of the card`,
      };
    }
    if (!this.context.parts.has(path.slice(0, path.indexOf(':')))) {
      return {
        kind: 'cannot',
        code: 'path-not-possible',
        why: `${JSON.stringify(made.text)} is on no part that the device has`,
      };
    }
    return path;
  }

  private renamed(path: string, before: string): string {
    const root = this.context.root.endsWith(':') ? this.context.root : `${this.context.root}/`;
    return path.startsWith(root) && before.startsWith(root)
      ? root + this.renames.file(path.slice(root.length), before.slice(root.length))
      : path;
  }

  /** A raw key, by the name that it has at this version. */
  keyAt(file: CompiledFile, template: Template, names: NameLookup, point: ScopePoint): string | Cannot {
    const { syntax } = file.written;
    const key = this.keyText(template, syntax, names);
    if (typeof key !== 'string') return key;
    const before = this.keyText(template, syntax, asBefore(names, point));
    return this.renames.key(file.id, key, typeof before === 'string' ? before : key);
  }

  keyText(template: Template, syntax: SyntaxName, names: NameLookup): string | Cannot {
    const made = template.render(names, (name) => escapeInKey(syntax, name));
    if (made.kind === 'missing')
      return { kind: 'cannot', code: 'name-without-value', why: `{{${made.name}}} in its key has no value here` };
    if (made.kind === 'cannot') return { kind: 'cannot', code: 'not-expressible', why: made.why };
    const bad = this.syntaxes[syntax].badPath(made.text);
    return bad === undefined
      ? made.text
      : {
          kind: 'cannot',
          code: 'not-expressible',
          why: `its key would be ${JSON.stringify(made.text)}, which names nothing: ${bad}`,
        };
  }

  place(write: CompiledWrite, point: ScopePoint, names: NameLookup): Placed | Cannot {
    const file = write.files.get(scopeOf(point));
    if (file === undefined) return { kind: 'cannot', code: 'not-expressible', why: 'it has no file for it' };
    if (file.written['generated-from'] !== undefined) {
      return {
        kind: 'cannot',
        code: 'not-expressible',
        why: `the frontend makes ${file.id} anew from other files, so what is written there is lost`,
      };
    }
    const path = this.filePath(file, this.cardNames(point), point);
    if (typeof path !== 'string') return path;
    const own = write.codec.ownKey?.(this.context);
    if (typeof own === 'object') return own;
    const withOwn: NameLookup = own === undefined ? names : (name) => (name === ownKeyName ? own : names(name));
    const targets: Target[] = [];
    for (const entry of write.keys) {
      const key = this.keyAt(file, entry.template, withOwn, point);
      if (typeof key !== 'string') return key;
      targets.push({ entry, path, key });
    }
    return { write, file, targets };
  }
}

function tidy(path: string): string {
  return path.replace(/^([^:/]*):\/+/, '$1:');
}

/** The names of a point as they were before any update renamed a core. */
function asBefore(names: NameLookup, { core }: ScopePoint): NameLookup {
  return core === undefined ? names : (name) => (name === 'core.id' ? core : names(name));
}
