import type { Finding } from '../../diagnostics/finding.ts';
import { makeFinding } from '../../diagnostics/make-finding.ts';
import type { SourceText } from '../../text/source-text.ts';
import type { Span } from '../../text/span.ts';
import type { ChangeResult } from '../contract.ts';

/** What a change of a tree-shaped text can be refused for. Each makes the finding with its place and way out. */
export interface Refusals {
  holdsKeys(path: string, span: Span): ChangeResult;
  notDetermined(path: string, why: string, span: Span): ChangeResult;
  /** The key is there, and its place does not allow the change. */
  cannotChange(path: string, why: string, span: Span): ChangeResult;
  cannotCarry(path: string, why: string, span: Span): ChangeResult;
}

/** Refusals for one text, in its syntax's name. */
export function refusalsOf(source: SourceText, syntax: 'TOML' | 'YAML'): Refusals {
  const refuse = (finding: Finding): ChangeResult => ({ kind: 'refused', finding });
  const key = (path: string): string => JSON.stringify(path);
  return {
    holdsKeys: (path, span) =>
      refuse(
        makeFinding('key-holds-keys', {
          detail: `${key(path)} is a group of keys in this file, so that a value there would wipe them.`,
          wayOut: `Name one of the keys inside ${key(path)}, or take the group out of the file by hand.`,
          place: { source, span },
        }),
      ),
    notDetermined: (path, why, span) =>
      refuse(
        makeFinding('key-not-determined', {
          detail: `${key(path)} is not in the file, and ${why}`,
          wayOut: 'Add the part that is missing by hand, or name a key that is there.',
          place: { source, span },
        }),
      ),
    cannotChange: (path, why, span) =>
      refuse(
        makeFinding('key-not-determined', {
          detail: `${key(path)} cannot be changed: ${why}`,
          wayOut: 'Change this place by hand, or name another key.',
          place: { source, span },
        }),
      ),
    cannotCarry: (path, why, span) =>
      refuse(
        makeFinding('value-not-carried', {
          detail: `The value for ${key(path)} cannot be written as ${syntax}. ${why}`,
          wayOut: 'Choose a value that the format has.',
          place: { source, span },
        }),
      ),
  };
}
