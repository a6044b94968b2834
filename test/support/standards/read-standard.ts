import { readFileSync } from 'node:fs';

/** A file of measured facts in this folder; the caller knows its shape. */
export function readStandard<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8')) as T;
}
