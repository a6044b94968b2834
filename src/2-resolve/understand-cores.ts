import type { Outcome } from '../diagnostics/finding.ts';
import type { Wish } from '../model/resolved.ts';
import type { Written } from './understand.ts';

/** A core or a list of cores, best first, each `core` or `instance/core`. */
export function understandCores(written: Written): Outcome<Wish> {
  const { value } = written;
  const listed: readonly unknown[] = Array.isArray(value) ? value : [value];
  return {
    value: {
      kind: 'cores',
      wishes: listed.map((item, index) => {
        const text = String(item);
        const slash = text.indexOf('/');
        const place = written.document.place(Array.isArray(value) ? [...written.path, index] : written.path);
        return slash < 0
          ? { core: text, place }
          : { core: text.slice(slash + 1), instance: text.slice(0, slash), place };
      }),
    },
    findings: [],
  };
}
