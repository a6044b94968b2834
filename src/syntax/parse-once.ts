import type { Style, Syntax } from './contract.ts';
import type { SourceText } from '../text/source-text.ts';

/**
 * The syntax, which parses a text once in each style for as long as somebody holds the text: a base file is looked up
 * for what it says already and then changed, and the devices of a workspace share their stock files.
 */
export function parsingOnce(syntax: Syntax): Syntax {
  const known = new WeakMap<SourceText, Map<string, ReturnType<Syntax['parse']>>>();
  return {
    ...syntax,
    parse: (source: SourceText, style: Style) => {
      let styles = known.get(source);
      if (styles === undefined) known.set(source, (styles = new Map<string, ReturnType<Syntax['parse']>>()));
      const key = JSON.stringify(style);
      let parsed = styles.get(key);
      if (parsed === undefined) styles.set(key, (parsed = syntax.parse(source, style)));
      return parsed;
    },
  };
}
