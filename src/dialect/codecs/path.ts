import type { Part } from '../../model/device.ts';
import type { Value } from '../../model/value.ts';
import { describeValue } from '../../model/describe-value.ts';
import type { CodecKind } from './contract.ts';
import { oneSlot, onlyText } from './held.ts';

function withoutEnd(path: string): string {
  return path.length > 1 ? path.replace(/\/+$/, '') || '/' : path;
}

/** A folder of the card as programs on the device name it. */
export function devicePath(part: Part, folder: string): string | undefined {
  if (part.mountedAt === undefined) return undefined;
  const at = withoutEnd(part.mountedAt);
  if (folder === '') return at;
  return `${at === '/' ? '' : at}/${folder}`;
}

/** `part:folder`, spelled with the part's `mounted-at`. */
export const path: CodecKind<'path'> = {
  name: 'path',
  fits: ['place'],
  make(written) {
    const end = written.trailing === true ? '/' : '';
    return {
      value: {
        rule: { name: 'path', says: 'the folder where the device mounts it' },
        nothing: undefined,
        spell(value, at) {
          if (value.kind !== 'place')
            return { kind: 'cannot', code: 'value-not-learnt', why: `${describeValue(value)} is no folder` };
          const part = at.context.parts.get(value.part);
          const folder = part === undefined ? undefined : devicePath(part, value.folder);
          if (folder === undefined) {
            return {
              kind: 'cannot',
              code: 'part-not-mounted',
              why: `the profile does not say where the part ${value.part} is mounted`,
            };
          }
          return { kind: 'exact', slots: oneSlot(folder === '/' ? folder : folder + end) };
        },
        others: () => [],
        // A slash at the end changes nothing to a program that opens the folder.
        same: (held, said) =>
          held.kind === 'scalar' && said.kind === 'scalar' && withoutEnd(held.text) === withoutEnd(said.text),
        candidates(held, at) {
          const text = onlyText(held);
          if (text === undefined) return [];
          const whole = withoutEnd(text);
          const found: { readonly value: Value; readonly length: number }[] = [];
          for (const part of at.context.parts.values()) {
            const root = devicePath(part, '');
            if (root === undefined) continue;
            const before = root === '/' ? '/' : `${root}/`;
            if (whole === root)
              found.push({ value: { kind: 'place', part: part.name, folder: '' }, length: root.length });
            else if (whole.startsWith(before)) {
              found.push({
                value: { kind: 'place', part: part.name, folder: whole.slice(before.length) },
                length: root.length,
              });
            }
          }
          // The innermost mount is the part that the folder is really on.
          return found.sort((a, b) => b.length - a.length).map((entry) => entry.value);
        },
      },
      findings: [],
    };
  },
};
