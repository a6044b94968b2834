import { detectVersion } from '../dialect/detect.ts';
import type { LoadedDialect } from '../1-load/load-dialect.ts';
import { cardPath } from '../model/paths.ts';
import type { CardPath } from '../model/paths.ts';
import type { Instance } from '../model/resolved.ts';
import type { SourceText } from '../text/source-text.ts';

/** What a card says of the frontend that stands on it. */
export interface CardVersion {
  readonly instance: string;
  /** Undefined: the dialect does not say how to tell, or the card's text does not. */
  readonly found: string | undefined;
  readonly file: CardPath | undefined;
}

/** Reads each instance's version off the card, by the `detect` of its dialect. */
export async function cardVersions(
  instances: readonly Instance[],
  dialects: ReadonlyMap<string, LoadedDialect>,
  read: (path: CardPath) => SourceText | undefined,
): Promise<readonly CardVersion[]> {
  const found: CardVersion[] = [];
  for (const instance of instances) {
    const detect = dialects.get(instance.name)?.document.data.detect;
    const root = instance.root.endsWith(':') ? instance.root : `${instance.root}/`;
    const file = detect === undefined ? undefined : cardPath(detect.file.replace(/^\{\{\s*root\s*\}\}\//, () => root));
    const source = file === undefined ? undefined : read(file);
    found.push({
      instance: instance.name,
      file,
      found:
        detect === undefined || source === undefined ? undefined : await detectVersion(detect.pattern, source.text),
    });
  }
  return found;
}
