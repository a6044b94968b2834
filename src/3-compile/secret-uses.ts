import type { Compiled, KeyText } from '../model/compiled.ts';
import type { CardPath } from '../model/paths.ts';
import type { Decision } from '../model/resolved.ts';

/** One secret that a card will hold, and for what. */
export interface SecretUse {
  readonly name: string;
  readonly instance: string;
  readonly setting: string;
  readonly decision: Decision;
  /** The files that hold it, or a key made from it; sorted. */
  readonly files: readonly CardPath[];
  /** The name of the Wi-Fi network whose password it is. */
  readonly network?: string;
}

/** Whether a text holds what stands for a secret, however a syntax escapes the angles. */
function mentions(text: string, name: string): boolean {
  for (let at = text.indexOf(`secret:${name}`); at >= 0; at = text.indexOf(`secret:${name}`, at + 1))
    if (!/[a-z0-9-]/.test(text[at + 'secret:'.length + name.length] ?? '')) return true;
  return false;
}

/** The texts of a value, whether one or a list. */
export function textsOf(value: KeyText | undefined): readonly string[] {
  if (value === undefined) return [];
  return value.kind === 'scalar' ? [value.text] : value.items.map(({ text }) => text);
}

/** The secrets that reach the files of a profile: those that only have a name in it are not among them. */
export function secretUses(compiled: Compiled): readonly SecretUse[] {
  const uses = new Map<string, SecretUse & { readonly files: CardPath[] }>();
  const add = (decision: Decision, instance: string, path: CardPath, name: string, network?: string): void => {
    const key = JSON.stringify([name, instance, decision.setting, network]);
    const known = uses.get(key);
    if (known === undefined) {
      const about = { name, instance, setting: decision.setting, decision, files: [path] };
      uses.set(key, network === undefined ? about : { ...about, network });
    } else if (!known.files.includes(path)) known.files.push(path);
  };
  for (const { decision, instance, path, value } of compiled.edits) {
    if (decision?.value.kind !== 'secret') continue;
    const { name } = decision.value;
    if (textsOf(value).some((text) => mentions(text, name))) add(decision, instance, path, name);
  }
  for (const { decisions, instance, path, text } of compiled.wholeFiles) {
    for (const decision of decisions) {
      const { value } = decision;
      if (value.kind === 'secret' && mentions(text, value.name)) add(decision, instance, path, value.name);
      if (value.kind !== 'networks') continue;
      for (const { name, password } of value.networks)
        if (password !== undefined && mentions(text, password)) add(decision, instance, path, password, name);
    }
  }
  for (const { files } of uses.values()) files.sort();
  return [...uses.values()];
}
