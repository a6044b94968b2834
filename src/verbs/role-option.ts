import type { Role } from '../vocabulary/types.ts';
import { text } from './contract.ts';
import type { Options } from './contract.ts';

const roles: readonly Role[] = ['player', 'menu', 'shelf', 'system'];

/** `--role`: one role or several, with commas between; a player where none is said. A string says what is wrong. */
export function roleOption(options: Options): readonly Role[] | string {
  const written = (text(options, 'role') ?? 'player').split(',').map((one) => one.trim());
  const found = roles.filter((role) => written.includes(role));
  const strange = written.find((one) => !roles.some((role) => role === one));
  if (strange === undefined) return found;
  return `a frontend's role is ${roles.join(', ')}, or several with commas between; not ${JSON.stringify(strange)}.`;
}
